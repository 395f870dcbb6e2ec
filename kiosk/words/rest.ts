import { en as said } from '../../machines/words/en.ts'
import type { Words as SaidWords } from '../../machines/words/types.ts'
import { en as bench } from './bench.ts'
import { en as handsfree } from './handsfree.ts'
import { en as jobs } from './jobs.ts'
import { notKnown, server } from './notices.ts'

/** Words that several screens share and no first Wall shows, in English: fetched once the Wall stands. */
export const en = {
  bench,
  handsfree,
  jobs,
  notKnown,
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
