import { useSignal } from '@preact/signals'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import type { Draft, Entry } from '../../machines/envelope.ts'
import { type Deviation, deviationsIn } from '../../machines/trace/deviations.ts'
import { foundLater } from '../../machines/trace/foundLater.ts'
import { reviewsIn } from '../../machines/trace/reviews.ts'
import { traced } from '../../machines/trace/trace.ts'
import { useShop } from '../commands/shop.ts'
import { traceIn } from '../words/traceIn.ts'
import { about, type Span } from './axis.ts'
import { Causes } from './causes.tsx'
import { Compare } from './compareView.tsx'
import { Deviations } from './deviations.tsx'
import { knownBy, lateIn, laterMarks } from './laterMarks.ts'
import type { Chart } from './mark.ts'
import { chartOf, withLater } from './marks.ts'
import { MomentView } from './moment.tsx'
import { Notices } from './notices.tsx'
import { MarksTable } from './table.tsx'
import { Timeline } from './timeline.tsx'

type Entries = readonly (Draft | Entry)[]
type OnShow = (entry: string, at: number) => void
type Props = {
  readonly entries: Entries
  readonly now: number
  /** Its id: what a file of it is named by. */
  readonly name: string
  /** Where something may be decided about it; the page that a job is exported as takes no commands. */
  readonly job?: string
  readonly onSaved?: () => void
}

/** What a job's entries tell: on the screen, and on the page that it is exported as. */
export function JobTraced({ entries, now, name, job, onSaved }: Props) {
  const trace = traceIn(useShop().words.value)
  const { all, deviations, chart } = useMemo(() => {
    const told = traced(entries)
    const found = [...deviationsIn(entries), ...foundLater(told)].sort((a, b) => a.at - b.at)
    return { all: told, deviations: found, chart: chartOf(told, entries, found) }
  }, [entries])
  const isDrawn = useSignal(false)
  // The timeline is on the screen before what stands below it is made.
  useEffect(() => {
    isDrawn.value = true
  }, [])
  const show = useRef<OnShow>(() => {})
  const onShow: OnShow = (entry, at) => show.current(entry, at)
  const isEmpty = chart.marks.length === 0 || all.panels.every(({ coats }) => coats.length === 0)
  return (
    <>
      {isEmpty && <p class="sentence">{trace.nothing}</p>}
      <Notices {...{ all, entries, now }} />
      {!isEmpty && <AnyMoment {...{ entries, deviations, chart, now, name, show }} />}
      {isDrawn.value && (
        <>
          {!isEmpty && job !== undefined && <Compare {...{ job, all, entries, now }} />}
          <Deviations
            {...{ deviations, late: lateIn(entries), now, onShow, job }}
            {...(onSaved ? { onSaved } : {})}
          />
          {!isEmpty && <Causes {...{ all, reviews: reviewsIn(entries), onShow, now, job }} />}
        </>
      )}
    </>
  )
}

/** What the shop's clock is ahead of UTC at an instant. */
const offsetOf = (instant: (typed: string) => number, at: number): number => {
  const typed = new Date(at).toISOString().slice(0, 16)
  return Date.parse(`${typed}Z`) - instant(typed)
}

type AnyMomentProps = Pick<Props, 'entries' | 'now' | 'name'> & {
  readonly deviations: readonly Deviation[]
  readonly chart: Chart
  /** Where to put what shows the spot of an entry. */
  readonly show: { current: OnShow }
}

/** The timeline with its slider and its table: what a step of the slider draws anew, and nothing else does. */
function AnyMoment({ entries, deviations, chart, now, name, show }: AnyMomentProps) {
  const { words, format } = useShop()
  const moment = useSignal<number | null>(null)
  const at = moment.value
  const was = useMemo(() => {
    if (at === null) return null
    const known = knownBy(entries, at)
    const all = traced(known)
    const later = laterMarks(entries, at)
    return { at, known, all, later, chart: chartOf(all, known, deviationsIn(known)) }
  }, [entries, at])
  const shown = useSignal<Span>({ from: chart.from, to: chart.to })
  const picked = useSignal<string | null>(null)
  const top = useRef<HTMLHeadingElement>(null)
  show.current = (entry, at) => {
    const span = shown.value
    const hour = Math.min(span.to - span.from, 3_600_000)
    picked.value = entry
    shown.value = about(at, { from: at - hour / 2, to: at + hour / 2 }, chart)
    top.current?.scrollIntoView({ block: 'start' })
  }
  const drawn = was ? { ...withLater(was.chart, was.later), from: chart.from, to: chart.to } : chart
  return (
    <>
      <h2 ref={top}>{traceIn(words.value).chart}</h2>
      <Timeline
        chart={drawn}
        shown={shown}
        picked={picked.value}
        stops={deviations.filter(({ kind }) => kind !== 'notJudged').map(({ at }) => at)}
        offsetMs={offsetOf(format.value.instant, chart.from)}
        moment={at}
        name={name}
      />
      <MomentView from={chart.from} to={chart.to} moment={moment} then={was} />
      <MarksTable chart={drawn} now={now} />
    </>
  )
}
