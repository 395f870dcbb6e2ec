import { bellOf } from '../../machines/bell/fold.ts'
import type { State } from '../../machines/state.ts'
import type { Send } from '../commands/send.ts'
import type { Shown } from './openBells.ts'

/**
 * Tells the log how a card was answered, bell by bell. One that was answered before its turn to
 * sound came is not in the log yet: its ring is sent first, or the answer would have nothing to answer.
 * @param snoozeMin for how long it is put off; null where it is acknowledged
 */
export async function answerBell(
  send: Send,
  state: State,
  card: Shown,
  snoozeMin: number | null = null,
): Promise<void> {
  for (const { key } of card.bells) {
    const hasRung = (bellOf(state, key)?.rangAt ?? null) !== null
    if (!hasRung) await send('RingBell', { key, wasHeard: false })
    if (snoozeMin === null) await send('AcknowledgeBell', { key })
    else await send('SnoozeBell', { key, minutes: snoozeMin })
  }
}
