import type { Lane } from './lanes.ts'

/** The product of the coat that a lane waits for; of a shut window that wants it, what is on. */
export const comingOf = ({ waits, ...lane }: Lane): Pick<Lane, 'job' | 'sheet' | 'colour'> =>
  waits.for === 'recoat' ? { ...lane, ...waits.of } : lane
