import { useShop } from '../commands/shop.ts'
import { screenNow } from '../device/runtime.ts'
import { Shape } from '../ui/drawings.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import { boothTimers } from './boothView.ts'

/** One or two timers with digits of 32 mm, to be read through the booth's window. */
export function Booth({ kiosk, rest: [job] }: ViewProps) {
  const { state, words, format } = useShop()
  const now = screenNow(kiosk).value
  if (!state.value) return <p class="minor">…</p>
  const timers = boothTimers(state.value, words.value, now, job)
  return (
    <div class="booth">
      <div class="booth-keys">
        <a class="button" href={hashOf('wall')}>
          {words.value.board.back}
        </a>
        <a class="button" data-act="help" href={hashOf('help', 'booth', ...(job ? [job] : []))}>
          {words.value.board.help}
        </a>
      </div>
      {timers.length === 0 && <p class="far-about">{words.value.board.nothingRuns}</p>}
      {timers.map(({ key, title, detail, chip, overAt }) => (
        <section
          key={key}
          class={chip.sound ? 'booth-timer bell' : 'booth-timer'}
          data-sound={chip.sound ?? undefined}
          data-timer={key}
        >
          <h2>
            {title} <span>{detail}</span>
          </h2>
          <p
            class={chip.isDigits ? 'far digits' : 'far'}
            style={{ '--characters': String(chip.big.length) }}
          >
            {chip.sound && !chip.isDigits && <Shape sound={chip.sound} />}
            {chip.big}
          </p>
          <p class="far-about">
            {chip.small}
            {overAt !== null && <b class="digits">{format.value.time(overAt)}</b>}
          </p>
        </section>
      ))}
    </div>
  )
}
