import { useSignal } from '@preact/signals'
import { useLayoutEffect, useRef } from 'preact/hooks'
import { isSprayed } from '../../machines/sheet/schema.ts'
import type { Band, Lane } from '../lanes/lanes.ts'
import type { Words } from '../words/en.ts'
import { type Clock, run } from './inSight.ts'

/** The stretch of time that a Wall shows, in minutes about now. */
const BEFORE_MIN = 30
const AFTER_MIN = 45
const MINUTE_MS = 60_000
const SPAN_MS = (BEFORE_MIN + AFTER_MIN) * MINUTE_MS

/** The position of an instant, in percent of the width; outside it, below 0 or above 100. */
const place = (at: number, now: number): number =>
  ((at - now + BEFORE_MIN * MINUTE_MS) / SPAN_MS) * 100

const within = (percent: number): number => Math.max(0, Math.min(100, percent))

/** A stretch as a style; nothing when it lies outside what is shown. */
function stretch(from: number, to: number, now: number): { left: string; width: string } | null {
  const left = within(place(from, now))
  const right = within(place(to, now))
  return right > left ? { left: `${left}%`, width: `${right - left}%` } : null
}

function Box({
  name,
  from,
  to,
  now,
  text,
}: {
  name: string
  from: number
  to: number
  now: number
  text?: string
}) {
  const style = stretch(from, to, now)
  return (
    style && (
      <div class={name} style={style}>
        {text && <span>{text}</span>}
      </div>
    )
  )
}

/** Hatched: not yet. Clear: now. The upright line: the last moment, and what follows it. */
function BandOf({ band, now, words }: { band: Band; now: number; words: Words }) {
  const farMs = now + 2 * SPAN_MS
  const flashTo = band.flashTo ?? farMs
  const shuts = band.shutsAt ?? farMs
  const end = place(shuts, now)
  return (
    <>
      <Box name="band flash" from={band.from} to={Math.min(flashTo, shuts)} now={now} />
      <Box name="band open" from={flashTo} to={shuts} now={now} />
      {end >= 0 && end <= 100 && (
        <div class="shuts" style={{ left: `${end}%` }}>
          <span class={end > 88 ? 'shuts-word before' : 'shuts-word'}>
            {words.after[band.afterWindow]}
          </span>
        </div>
      )}
    </>
  )
}

type Props = Clock & { readonly lane: Lane; readonly words: Words }

/** Drawn again in slow steps where it is in sight, and when it comes into sight. */
export function Timeline({ lane, now: exact, slow, words }: Props) {
  const { cure } = lane
  const box = useRef<HTMLDivElement>(null)
  const step = useSignal(slow.peek())
  useLayoutEffect(() => {
    const look = () => {
      step.value = slow.peek()
    }
    return box.current
      ? run({ now: exact, slow }, { box: box.current, look, by: 'slowly' })
      : undefined
  }, [exact, slow])
  step.value
  const now = exact.peek()
  return (
    <div class="timeline" aria-hidden="true" ref={box}>
      {lane.band && <BandOf band={lane.band} now={now} words={words} />}
      {cure && (
        <>
          <Box
            name="band cured"
            from={cure.from}
            to={Math.min(now, cure.to ?? now)}
            now={now}
            {...(cure.tempC === null ? {} : { text: `${cure.tempC} °C` })}
          />
          {cure.to !== null && <Box name="band open" from={now} to={cure.to} now={now} />}
        </>
      )}
      <div class="nowline" style={{ left: `${place(now, now)}%` }} />
      {lane.marks.map((mark) => {
        const at = place(mark.to ?? now, now)
        if (at < 1.5 || !isSprayed(mark.stage)) return null
        return (
          <div
            class={mark.to === null ? 'mark spraying' : 'mark'}
            key={mark.from}
            style={{ left: `${at}%` }}
          >
            {words.letter[mark.stage]}
          </div>
        )
      })}
    </div>
  )
}

export function Scale({ words }: { words: Words }) {
  const ticks = [-30, -15, 0, 15, 30]
  return (
    <div class="scale minor digits" aria-hidden="true">
      {ticks.map((min) => (
        <span
          key={min}
          style={{ left: `${within(((min + BEFORE_MIN) / (BEFORE_MIN + AFTER_MIN)) * 100)}%` }}
        >
          {min === 0 ? words.wall.now : words.wall.min(min)}
        </span>
      ))}
    </div>
  )
}
