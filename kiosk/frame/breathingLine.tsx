import { useMemo } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import type { Kiosk } from '../device/runtime.ts'
import { screenNow, slowNow } from '../device/screenNow.ts'
import { atMoments } from '../lanes/moment.ts'
import { breathingZones } from './breathing.ts'

/** Until when breathing air stays on, zone by zone, on every screen. It defers to sheet, maker and law. */
export function BreathingLine({ kiosk }: { kiosk: Kiosk }) {
  const { state, words, format } = useShop()
  const breathing = useMemo(
    () => atMoments(screenNow(kiosk), (at) => (state.value ? breathingZones(state.value, at) : [])),
    [kiosk, state],
  )
  const zones = breathing.value
  if (zones.length === 0) return null
  const now = slowNow(kiosk).value
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
