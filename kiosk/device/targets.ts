import type { PrintedCommand } from '../../labels/code.ts'
import type { State } from '../../machines/state.ts'
import { type Act, actsOf } from '../lanes/acts.ts'
import { cupsOf } from '../lanes/cups.ts'
import { type Lane, lanesOf } from '../lanes/lanes.ts'
import type { Words } from '../words/en.ts'
import type { ScanPair } from './hand.ts'

/** Which lane a printed command means, and which of its acts. Pure. */

/** Commands that are one of the acts which a lane offers. */
const ACT_OF: { readonly [C in PrintedCommand]?: (act: Act) => boolean } = {
  PREPDONE: (act) => act.type === 'DoPrepStep' && act.data.grit === undefined,
  COATSTART: (act) => act.type === 'StartCoat' && act.data.step === undefined,
  COATEND: (act) => act.type === 'FinishCoat' && act.data.startedAt === undefined,
  MATT: (act) => act.type === 'InspectCoat' && act.data.result === 'matt',
  NOTYET: (act) => act.type === 'InspectCoat' && act.data.result === 'notYet',
  COVERED: (act) => act.type === 'ReachCover',
  ONEMORE: (act) => act.type === 'StartCoat' && act.data.step !== undefined,
  BAKESTART: (act) => act.type === 'StartCure' && act.data.mode === 'bake',
  ATTEMP: (act) => act.type === 'ReadPart',
  BAKEEND: (act) => act.type === 'EndCure',
  PASS: (act) => act.type === 'PassPanel',
}

export type Target =
  | { readonly kind: 'act'; readonly lane: Lane; readonly act: Act }
  /** The scanned panel is not ready for it. */
  | { readonly kind: 'notNow'; readonly lane: Lane }
  | { readonly kind: 'nobody' }
  | { readonly kind: 'several' }

type Seen = { readonly state: State; readonly words: Words; readonly now: number }

/**
 * The panel in hand and no other, where there is one; else the only lane that offers the act. The end
 * of a coat is that of the coat started last.
 * @returns null for a command that is not an action of a lane
 */
export function targetOf(command: PrintedCommand, hand: ScanPair, seen: Seen): Target | null {
  const fits = ACT_OF[command]
  if (!fits) return null
  const lanes = lanesOf(seen.state, seen.now)
  const offered = lanes.flatMap((lane) => {
    const act = chosen(command, actsOf(seen.state, lane, seen.words, seen.now).filter(fits), hand)
    return act ? [{ kind: 'act' as const, lane, act }] : []
  })
  const own = offered.find(({ lane }) => lane.panel === hand.panel)
  if (own) return own
  if (command === 'COATEND') return offered.toSorted(byLastStart)[0] ?? { kind: 'nobody' }
  const held = lanes.find(({ panel }) => panel === hand.panel)
  if (held) return { kind: 'notNow', lane: held }
  const [only, another] = offered
  if (another) return { kind: 'several' }
  return only ?? { kind: 'nobody' }
}

/** A coat comes from the cup in hand where that fits. */
const chosen = (command: PrintedCommand, acts: readonly Act[], hand: ScanPair): Act | undefined =>
  (command === 'COATSTART' &&
    acts.find((act) => act.type === 'StartCoat' && act.data.cup === hand.cup)) ||
  acts[0]

type Offered = { readonly lane: Lane }
const startedAt = ({ lane: { waits } }: Offered) => (waits.for === 'spraying' ? waits.since : 0)
const byLastStart = (a: Offered, b: Offered) => startedAt(b) - startedAt(a)

/** The cup in hand while it is not emptied, else the only one there is. */
export function cupInHand(state: State, hand: ScanPair, now: number): string | null {
  const cups = cupsOf(state, now).map(({ id }) => id)
  if (hand.cup !== null && cups.includes(hand.cup)) return hand.cup
  return cups.length === 1 ? (cups[0] ?? null) : null
}
