import { useShop } from '../commands/shop.ts'
import type { Bar, Day } from './dayBars.ts'
import { panelName, type Say } from './daySays.ts'

/** The day as bars, a row a panel: what was is full, what is forecast is an outline, and the clock is a line. */

/** The drawing's own units: its width is that of the page. */
const WIDTH = 1_000
const BAR = 18

/** Up to where on the line an hour's number has room. */
const LAST_HOUR = 0.84

type Props = { readonly say: Say; readonly day: Day; readonly now: number }

export function DayChart({ say, day, now }: Props) {
  const { format } = useShop()
  const { fromMs, toMs, hours, lanes } = day
  const x = (ms: number) =>
    (WIDTH * (Math.min(Math.max(ms, fromMs), toMs) - fromMs)) / (toMs - fromMs)
  // On a narrow screen every second hour, or every third, has its number.
  const every = Math.ceil(hours.length / 6)
  return (
    <div class="day-chart">
      <p class="day-hours" aria-hidden="true">
        {hours.slice(0, -1).map((ms, i) =>
          i % every === 0 && x(ms) < WIDTH * LAST_HOUR ? (
            <span key={ms} class="minor digits" style={{ left: `${x(ms) / 10}%` }}>
              {format.value.time(ms)}
            </span>
          ) : null,
        )}
      </p>
      {lanes.map(({ panel, bars }) => (
        <div key={panel} class="day-lane" data-lane={panel}>
          <b>{panelName(say, panel)}</b>
          <svg viewBox={`0 0 ${WIDTH} ${BAR}`} preserveAspectRatio="none" aria-hidden="true">
            {hours.map((ms) => (
              <line key={ms} class="hour" x1={x(ms)} x2={x(ms)} y1="0" y2={BAR} />
            ))}
            {bars.map((bar) => (
              <BarShape key={`${bar.kind} ${bar.fromMs}`} bar={bar} x={x} />
            ))}
            <line class="now" x1={x(now)} x2={x(now)} y1="0" y2={BAR} />
          </svg>
        </div>
      ))}
      <p class="minor">
        {say.day.nowMark(format.value.time(now))} · <span class="key was" /> {say.day.was} ·{' '}
        <span class="key coat" /> {say.words.stage.clear}, {say.words.stage.base}… ·{' '}
        <span class="key cure" /> {say.words.stage.cure} · <span class="key hand" />{' '}
        {say.words.stage.prep}
      </p>
    </div>
  )
}

function BarShape({ bar, x }: { readonly bar: Bar; readonly x: (ms: number) => number }) {
  const { kind, fromMs, toMs, isPast } = bar
  const [from, to] = [x(fromMs), x(toMs)]
  // Beyond the end of the drawing there is nothing to see.
  if (to <= from) return null
  const high = kind === 'cure' ? BAR / 2 : BAR - 4
  return (
    <rect
      class={`bar ${kind}${isPast ? ' was' : ''}`}
      x={from}
      y={(BAR - high) / 2}
      width={Math.max(2, to - from)}
      height={high}
    />
  )
}
