import { en as said } from '../../machines/words/en.ts'
import type { Words as SaidWords } from '../../machines/words/types.ts'
import { en as bench } from './bench.ts'
import { en as handsfree } from './handsfree.ts'
import { en as jobs } from './jobs.ts'
import { notKnown, server } from './notices.ts'

/** Words that several screens share and no first Wall shows, in English: fetched once the Wall stands. */
export const en = {
  bench,
  cautions: {
    sample: 'SAMPLE sheet: its figures are invented. Check them against the maker’s sheet.',
    isocyanate:
      'Isocyanates: keep the air-fed mask on until the booth has cleared. Cover hands and eyes.',
    solvent:
      'Solvent: no flame. Ground the cans. Do not pile rags. No electrical devices in the booth.',
    first: "The maker's sheet, the safety sheet and the law come first.",
    bake: "Heat lights solvent vapor: nothing wet, no open cans or rags near it. Before a bake check the vehicle's own heat limit (its battery).",
    dust: 'Wear the dust mask: dust of fresh coats may hold isocyanates.',
  },
  handsfree,
  jobs,
  notKnown,
  who: {
    title: 'Who is at this kiosk?',
    hint: 'What is pressed here is logged under this name.',
    nobody: 'Nobody',
    roles: { painter: 'painter', prepper: 'prepper', lead: 'lead' },
  },
  range: {
    say: "DAY'S RANGE",
    holds: (range: string, time: string) => `${range} is taken for the air until ${time}.`,
  },
  wipe: 'Wipe the screen',
  /** What waits on a device, or is in no log. */
  unsent: {
    tryAgain: 'TRY AGAIN',
    discard: 'DISCARD',
    hint: 'Commands that the server does not know stay on this device. A file of them can be sent later by whoever runs the server.',
    save: (n: number) => (n === 1 ? 'SAVE IT TO A FILE' : `SAVE ${n} TO A FILE`),
  },
  operation: {
    'new-part': 'new part',
    repair: 'repair',
    blend: 'blend',
    'clear-only': 'clear only',
  },
  pads: { red: 'red pad', gray: 'gray pad', ultrafine: 'ultrafine pad', paste: 'abrasive paste' },
  reasons: {
    WAITED_FOR_BOOTH: 'waited for booth',
    BREAK: 'break',
    EQUIPMENT: 'equipment',
    WRONG_MIX: 'wrong mix',
    CLIMATE: 'climate',
    CUSTOMER_CHANGE: 'customer change',
    DELIBERATE_TECHNIQUE: 'deliberate technique',
    UNKNOWN: 'unknown',
  },
  /** What the rules say in codes. */
  said: said as SaidWords,
  server,
}
