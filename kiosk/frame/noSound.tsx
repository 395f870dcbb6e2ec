import { hasRung } from '../../machines/bell/fold.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { State } from '../../machines/state.ts'
import { useServer } from '../commands/serverContext.ts'
import { useShop } from '../commands/shop.ts'
import type { Kiosk } from '../device/runtime.ts'

/** So long before a bell is due it is said that nobody would hear it. */
const NEAR_MS = 5 * 60_000

/** This kiosk is silent; worse where no other one sounds either and a bell is near. */
export function NoSound({ kiosk }: { kiosk: Kiosk }) {
  const { words, state } = useShop()
  const heard = useServer()?.said.value?.kiosks ?? null
  if (kiosk.speaker.sound.value !== 'silent') return null
  const { nowMs } = kiosk.reading.value
  const next = state.value && nextBellAt(state.value, nowMs)
  const isNear = typeof next === 'number' && next - nowMs <= NEAR_MS
  const { board } = words.value
  const isNobody = heard?.sounding === 0 && isNear
  return (
    <div role="alert">
      <button type="button" class="no-sound" onClick={() => void kiosk.speaker.wake()}>
        {isNobody ? board.nobodySounds(Math.ceil((next - nowMs) / 60_000)) : board.noSound}
      </button>
    </div>
  )
}

/** The next bell that is to come, or one that came in the last minutes and has not rung; null without one. */
function nextBellAt(state: State, nowMs: number): number | null {
  const near = deadlines(state).filter((one) => one.dueAt > nowMs - NEAR_MS && !hasRung(state, one))
  return near[0]?.dueAt ?? null
}
