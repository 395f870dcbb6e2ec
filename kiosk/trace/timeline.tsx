import type { Signal } from '@preact/signals'
import { useSignal } from '@preact/signals'
import { useLayoutEffect, useRef } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { traceIn } from '../words/traceIn.ts'
import { about, moved, placesOf, type Span, ticksOf, zoomed } from './axis.ts'
import type { Chart, Mark, Row } from './mark.ts'
import { flagsText, markName, markNumbers, type Say } from './say.ts'

/** The timeline of a job as it is drawn. Its table says the same: nothing is in here alone. */

const ROW = 74
const BAR = { top: 26, height: 24 }
const AXIS = 34
const STRIP = 8
/** Narrower than this a bar has no room for words. */
const WORD_PX = 46

type Props = {
  readonly chart: Chart
  readonly shown: Signal<Span>
  /** The entry that was jumped to. */
  readonly picked: string | null
  /** When limits were broken, in order. */
  readonly stops: readonly number[]
  readonly offsetMs: number
}

/** As wide as its place on the page: a phone and a kiosk draw the same words in the same size. */
function useWidth() {
  const box = useRef<HTMLDivElement>(null)
  const width = useSignal(600)
  useLayoutEffect(() => {
    const measure = () => {
      width.value = Math.max(280, box.current?.clientWidth ?? 600)
    }
    measure()
    addEventListener('resize', measure)
    return () => removeEventListener('resize', measure)
  }, [])
  return { box, width: width.value }
}

export function Timeline({ chart, shown, picked, stops, offsetMs }: Props) {
  const { words, format } = useShop()
  const say = { words: words.value, format: format.value }
  const trace = traceIn(words.value)
  const { box, width } = useWidth()
  const span = shown.value
  const place = placesOf(span, width)
  const whole = { from: chart.from, to: chart.to }
  const set = (to: Span) => {
    shown.value = to
  }
  const middle = (span.from + span.to) / 2
  const next = stops.find((at) => at > middle + 1_000)
  const last = stops.findLast((at) => at < middle - 1_000)
  const height = AXIS + chart.rows.length * ROW
  const visible = chart.marks.filter(({ from, to }) => (to ?? from) >= span.from && from <= span.to)
  return (
    <section class="trace-chart">
      <div ref={box} class="trace-box">
        <svg
          width={width}
          height={height}
          role="img"
          aria-label={`${trace.chart}. ${trace.table} ↓`}
        >
          <defs>
            <pattern
              id="trace-allowed"
              width="8"
              height="8"
              patternUnits="userSpaceOnUse"
              patternTransform="rotate(45)"
            >
              <path d="M0 0V8" stroke="var(--muted)" stroke-width="3" />
            </pattern>
            <pattern id="trace-past" width="8" height="8" patternUnits="userSpaceOnUse">
              <path d="M0 0L8 8M8 0L0 8" stroke="var(--ink)" stroke-width="2" />
            </pattern>
          </defs>
          {ticksOf(span, width, offsetMs).map((at) => (
            <g key={at}>
              <path d={`M${place(at)} ${AXIS}V${height}`} stroke="var(--rule)" />
              <text x={place(at) + 4} y={22}>
                {(at + offsetMs) % 86_400_000 === 0 ? format.value.date(at) : format.value.time(at)}
              </text>
            </g>
          ))}
          {chart.rows.map((row, i) => (
            <RowView
              key={row.id}
              row={row}
              top={AXIS + i * ROW}
              width={width}
              marks={visible.filter((mark) => mark.row === row.id)}
              place={place}
              picked={picked}
              say={say}
            />
          ))}
        </svg>
      </div>
      <div class="acts">
        <Press act="zoomIn" onPress={() => set(zoomed(span, whole, 0.5))}>
          {trace.zoomIn}
        </Press>
        <Press act="zoomOut" onPress={() => set(zoomed(span, whole, 2))}>
          {trace.zoomOut}
        </Press>
        <Press act="fit" onPress={() => set(whole)}>
          {trace.fit}
        </Press>
        <Press act="earlier" onPress={() => set(moved(span, whole, -0.5))}>
          {trace.earlier}
        </Press>
        <Press act="later" onPress={() => set(moved(span, whole, 0.5))}>
          {trace.later}
        </Press>
        {stops.length > 0 && (
          <>
            <Press
              act="last"
              isOff={last === undefined}
              onPress={() => last !== undefined && set(about(last, zoomed(span, whole, 1), whole))}
            >
              {trace.lastDeviation}
            </Press>
            <Press
              act="next"
              isOff={next === undefined}
              onPress={() => next !== undefined && set(about(next, zoomed(span, whole, 1), whole))}
            >
              {trace.nextDeviation}
            </Press>
          </>
        )}
      </div>
      <p class="minor">{trace.legend}</p>
    </section>
  )
}

export function rowName({ kind, name }: Row, { words }: Say): string {
  const trace = traceIn(words)
  if (kind === 'air') return `${trace.air} · ${name}`
  if (kind === 'cup') return trace.cup(name.slice(0, 4))
  if (kind === 'bells') return trace.bells
  return kind === 'taken' ? trace.taken : name
}

type RowProps = {
  readonly row: Row
  readonly top: number
  readonly width: number
  readonly marks: readonly Mark[]
  readonly place: (at: number) => number
  readonly picked: string | null
  readonly say: Say
}

function RowView({ row, top, width, marks, place, picked, say }: RowProps) {
  return (
    <g data-row={row.id} transform={`translate(0 ${top})`}>
      <path d={`M0 ${ROW - 2}H${width}`} stroke="var(--rule)" />
      <text x="0" y="18" class="trace-name">
        {rowName(row, say)}
      </text>
      {marks.map((mark, i) => (
        <MarkView
          // Several marks of one entry stand in one row.
          key={`${mark.kind} ${mark.from} ${i}`}
          mark={mark}
          from={place(mark.from)}
          to={place(mark.to ?? mark.from)}
          width={width}
          isPicked={mark.entry !== null && mark.entry === picked}
          say={say}
        />
      ))}
    </g>
  )
}

type MarkProps = {
  readonly mark: Mark
  readonly from: number
  readonly to: number
  /** Of the drawing, px. */
  readonly width: number
  readonly isPicked: boolean
  readonly say: Say
}

const MOMENTS: readonly Mark['kind'][] = ['bell', 'work', 'void']

/** Meaning is in the pattern, the outline and the words: none of it is in a color. */
function MarkView({ mark, from, to, width, isPicked, say }: MarkProps) {
  const { kind, flags } = mark
  const isBroken = flags.some(
    (f) => f === 'outside' || f === 'override' || f === 'early' || f === 'late',
  )
  const title = [markName(mark, say), markNumbers(mark, say), flagsText(mark, say)]
    .filter(Boolean)
    .join(' · ')
  const wide = Math.max(3, to - from)
  const { top, height } = BAR
  const data = { 'data-mark': kind, 'data-entry': mark.entry ?? undefined }
  if (MOMENTS.includes(kind)) {
    return (
      <g {...data}>
        <title>{title}</title>
        <path
          d={
            kind === 'void'
              ? `M${from - 6} 32L${from + 6} 44M${from + 6} 32L${from - 6} 44`
              : `M${from} ${top + height + 2}l-6 10h12z`
          }
          fill={isBroken ? 'var(--ink)' : 'none'}
          stroke="var(--ink)"
          stroke-width={isPicked ? 5 : 2}
        />
      </g>
    )
  }
  const fill = {
    band: 'url(#trace-allowed)',
    past: 'url(#trace-past)',
    gap: 'none',
    wait: 'var(--raised)',
    air: 'var(--track)',
    cup: 'var(--track)',
  } as Partial<Record<Mark['kind'], string>>
  const word =
    kind === 'coat' || kind === 'cure'
      ? markName(mark, say)
      : kind === 'air'
        ? markNumbers(mark, say)
        : kind === 'gap'
          ? traceIn(say.words).notRecorded
          : ''
  const isThin = kind === 'use'
  // What was allowed is a strip below what was done: bars never hide it.
  const isStrip = kind === 'band' || kind === 'wait'
  return (
    <g {...data}>
      <title>{title}</title>
      <rect
        x={from}
        y={isStrip ? top + height : isThin ? top + 6 : top}
        width={wide}
        height={isStrip ? STRIP : isThin ? height - 12 : height}
        fill={flags.includes('estimated') ? 'none' : (fill[kind] ?? 'var(--bar)')}
        stroke={isBroken || isPicked ? 'var(--ink)' : 'var(--muted)'}
        stroke-width={isPicked ? 6 : isBroken ? 4 : kind === 'band' ? 0 : 1}
        stroke-dasharray={flags.includes('estimated') || kind === 'gap' ? '6 4' : undefined}
      />
      {word !== '' && wide > WORD_PX && (
        <text
          x={from + 5}
          y={top + 17}
          class={kind === 'air' || kind === 'gap' ? 'trace-minor' : 'trace-on'}
        >
          {word.slice(0, Math.floor(wide / 8))}
        </text>
      )}
      {kind === 'coat' && isBroken && (
        // In the right half they end at the mark: at the edge they were cut off.
        <text
          x={from > width / 2 ? Math.min(width, to) : Math.max(0, from - 4)}
          y={top + height + 20}
          text-anchor={from > width / 2 ? 'end' : 'start'}
          class="trace-minor"
        >
          ! {markNumbers(mark, say)}
        </text>
      )}
    </g>
  )
}
