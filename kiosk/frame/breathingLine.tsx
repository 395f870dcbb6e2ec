import { useShop } from '../commands/shop.ts'
import type { Kiosk } from '../device/runtime.ts'
import { screenNow } from '../device/screenNow.ts'
import { breathingZones } from './breathing.ts'

/** Until when breathing air stays on, zone by zone, on every screen. It defers to sheet, maker and law. */
export function BreathingLine({ kiosk }: { kiosk: Kiosk }) {
  const { state, words, format } = useShop()
  if (!state.value) return null
  const now = screenNow(kiosk).value
  const zones = breathingZones(state.value, now)
  if (zones.length === 0) return null
  const { board } = words.value
  return (
    <p class="breathing" role="status">
      {zones.map(({ zone, untilMs, clearanceMin }) => (
        <b key={zone} data-breathing={zone}>
          {untilMs === null
            ? board.breathingSpraying(zone, clearanceMin)
            : board.breathing(zone, format.value.timeAndDay(untilMs, now))}
        </b>
      ))}{' '}
      <span>{board.breathingWhy}</span>
    </p>
  )
}
