import { devicesOf } from '../../machines/devices/fold.ts'
import { useShop } from '../commands/shop.ts'

/** How many of the newest are shown; the log has them all. */
const SHOWN_MOST = 10

/** How the clock of the server's computer stepped of late, and what was confirmed; nothing where it did not. */
export function ClockSteps() {
  const { state, words, format } = useShop()
  const steps = state.value ? devicesOf(state.value).clock.slice(-SHOWN_MOST).toReversed() : []
  if (steps.length === 0) return null
  const { server } = words.value
  const dayTime = (ms: number) => `${format.value.date(ms)} ${format.value.time(ms)}`
  return (
    <section class="stack" data-clock-steps={steps.length}>
      <h2>{server.steps}</h2>
      <ul>
        {steps.map(({ kind, at, fromMs, toMs }) => (
          <li key={`${at} ${fromMs} ${toMs}`}>
            {kind === 'jumped'
              ? server.stepJumped(dayTime(at), dayTime(fromMs), dayTime(toMs))
              : server.stepConfirmed(dayTime(at), dayTime(toMs))}
          </li>
        ))}
      </ul>
    </section>
  )
}
