import type { Signal } from '@preact/signals'
import { useSignal } from '@preact/signals'
import { useLayoutEffect, useRef } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { timelineIn } from '../words/timeline.ts'
import { traceIn } from '../words/traceIn.ts'
import { about, apart, moved, placesOf, type Span, ticksOf, zoomed } from './axis.ts'
import type { Chart, Mark, Row } from './mark.ts'
import { dewY, MarkView } from './markView.tsx'
import { SavePicture } from './savePicture.tsx'
import type { Say } from './say.ts'

/** The timeline of a job as it is drawn. Its table says the same: nothing is in here alone. */

const ROW = 74
const AXIS = 34
/** A letter of the axis is no wider than this. */
const LETTER_PX = 9.5

type Props = {
  readonly chart: Chart
  readonly shown: Signal<Span>
  /** The entry that was jumped to. */
  readonly picked: string | null
  /** When limits were broken, in order. */
  readonly stops: readonly number[]
  readonly offsetMs: number
  /** The job's, for a file that it is saved as. */
  readonly name: string
  /** The moment that is looked at; null for all that is known now. */
  readonly moment: number | null
  /** How a time of it is written; by the shop's clock without it. */
  readonly label?: (ms: number) => string
}

/** As wide as its place on the page: a phone and a kiosk draw the same words in the same size. */
function useWidth() {
  const box = useRef<HTMLDivElement>(null)
  const width = useSignal<number | null>(null)
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

/** Drawn once: its place is measured before the first time. */
export function Timeline(props: Props) {
  const { box, width } = useWidth()
  return (
    <section class="trace-chart">
      <div ref={box} class="trace-box">
        {width !== null && <Drawing {...props} width={width} />}
      </div>
      <Keys {...props} box={box} />
    </section>
  )
}

function Drawing({
  chart,
  shown,
  picked,
  offsetMs,
  moment,
  label,
  width,
}: Props & { readonly width: number }) {
  const { words, format } = useShop()
  const say = { words: words.value, format: format.value }
  const trace = traceIn(words.value)
  const span = shown.value
  const place = placesOf(span, width)
  // There is no room for a year between two ticks.
  const clockText = (at: number) =>
    (at + offsetMs) % 86_400_000 === 0 ? format.value.date(at, at) : format.value.time(at)
  const height = AXIS + chart.rows.length * ROW
  const visible = chart.marks.filter(({ from, to }) => (to ?? from) >= span.from && from <= span.to)
  return (
    <svg width={width} height={height} role="img" aria-label={`${trace.chart}. ${trace.table} ↓`}>
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
      {ticksOf(span, width, offsetMs).map((at) => {
        const word = label ? label(at) : clockText(at)
        return (
          <g key={at}>
            <path d={`M${place(at)} ${AXIS}V${height}`} stroke="var(--rule)" />
            {/* At the right edge it would be cut off. */}
            <text x={Math.min(place(at) + 4, width - LETTER_PX * word.length)} y={22}>
              {word}
            </text>
          </g>
        )
      })}
      {chart.rows.map((row, i) => (
        <RowView
          key={row.id}
          row={row}
          top={AXIS + i * ROW}
          width={width}
          marks={apart(
            visible.filter((mark) => mark.row === row.id),
            place,
            ({ entry, flags }) => flags.length > 0 || (entry !== null && entry === picked),
          )}
          place={place}
          picked={picked}
          say={say}
        />
      ))}
      {moment !== null && (
        <path
          data-moment-line
          d={`M${place(moment)} ${AXIS - 8}V${height}`}
          stroke="var(--ink)"
          stroke-width="3"
        />
      )}
    </svg>
  )
}

type KeysProps = Props & { readonly box: { readonly current: HTMLDivElement | null } }

/** Nearer, further, aside, from one broken limit to the next, and away as a file. */
function Keys({ chart, shown, stops, name, label, box }: KeysProps) {
  const trace = traceIn(useShop().words.value)
  const span = shown.value
  const whole = { from: chart.from, to: chart.to }
  const set = (to: Span) => {
    shown.value = to
  }
  const middle = (span.from + span.to) / 2
  const next = stops.find((at) => at > middle + 1_000)
  const last = stops.findLast((at) => at < middle - 1_000)
  return (
    <>
      <div class="acts" data-repeat>
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
      <SavePicture {...{ box, name, span }} {...(label ? { label } : {})} />
    </>
  )
}

export function rowName({ kind, name }: Row, { words }: Say): string {
  const trace = traceIn(words)
  const zone = words.zones[name] ?? name
  if (kind === 'air') return `${trace.air} · ${zone}`
  if (kind === 'dew') return `${timelineIn(words).dew} · ${zone}`
  if (kind === 'later') return timelineIn(words).knownLater
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
      {row.kind === 'dew' && <DewLimit marks={marks} width={width} />}
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

/** The least that a surface has to be above the dew point, across the row. */
function DewLimit({ marks, width }: Pick<RowProps, 'marks' | 'width'>) {
  const limit = marks.find(({ kind }) => kind === 'dew')?.numbers?.[1] ?? null
  if (limit === null) return null
  return <path d={`M0 ${dewY(limit)}H${width}`} stroke="var(--ink)" stroke-dasharray="2 6" />
}
