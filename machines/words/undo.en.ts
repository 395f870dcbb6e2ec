import type { InUse } from '../refusalParams.ts'
import { events } from './names.en.ts'
import { needingText } from './needing.ts'
import type { Figures } from './types.ts'

/** Why an entry is not voided. */
export function notVoided(limit: InUse, f: Figures): string {
  if (limit.why === 'void') return 'An undo cannot be undone.'
  if (limit.why === 'voided') return 'This was undone already.'
  if (limit.why === 'letGo')
    return 'After 12 hours this cannot be undone. If the zone may not be clear, keep the mask on.'
  if (limit.why === 'used') {
    const name = limit.name ?? limit.id
    return limit.kind === 'sheet'
      ? `This cannot be undone: the sheet ${name} is in use.`
      : `This cannot be undone: the job ${name} has panels or cups.`
  }
  return limit.needing
    ? `Something needs this: ${needingText(limit.needing, events, 'cup', f)}. Undo that first.`
    : `This cannot be undone: entry ${limit.entry} of ${limit.kind} ${limit.id} needs it.`
}
