import { useComputed, useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { TraceAnswer } from '../../machines/contract.ts'
import type { Draft, Entry } from '../../machines/envelope.ts'
import { relatedEntries } from '../../machines/job/relatedEntries.ts'
import { type State, thingOf } from '../../machines/state.ts'
import { deviationsIn } from '../../machines/trace/deviations.ts'
import { foundLater } from '../../machines/trace/foundLater.ts'
import { reviewsIn } from '../../machines/trace/reviews.ts'
import { traced } from '../../machines/trace/trace.ts'
import { useShop } from '../commands/shop.ts'
import { OF, RECORDS } from '../ui/chainLink.tsx'
import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { SaveJob } from '../ui/saveJob.tsx'
import type { ViewProps } from '../ui/screen.tsx'
import { traceIn } from '../words/traceIn.ts'
import { about, type Span } from './axis.ts'
import { Causes } from './causes.tsx'
import { Chain } from './chain.tsx'
import { Compare } from './compareView.tsx'
import { Deviations } from './deviations.tsx'
import { knownBy, laterMarks } from './laterMarks.ts'
import { chartOf, withLater } from './marks.ts'
import { MomentView } from './moment.tsx'
import { Notices } from './notices.tsx'
import { Records } from './records.tsx'
import { MarksTable } from './table.tsx'
import { Timeline } from './timeline.tsx'

type Entries = readonly (Draft | Entry)[]
/** From the server; `here` is what this kiosk has while the server is away. */
type Told =
  | { readonly from: 'server' | 'here'; readonly entries: Entries }
  | { readonly from: 'unknown' }

/** What this kiosk has of a job, its cups and guns, the air and the sheets. */
function entriesHere(state: State, job: string): Entries {
  const all = (['job', 'panel', 'cup', 'bell'] as const).flatMap((kind) =>
    Object.values(state.things[kind]).flatMap((thing) =>
      thing.entries.filter((e: Draft) => e.job === job),
    ),
  )
  const own = [...new Map(all.map((entry) => [entry.id, entry])).values()]
  if (own.length === 0) return []
  const { entries } = relatedEntries(own, (ref) => thingOf(state, ref)?.entries ?? [])
  const around = (['zone', 'sheet', 'settings'] as const).flatMap((kind) =>
    Object.values(state.things[kind]).flatMap((thing) => thing.entries),
  )
  return [...new Map([...entries, ...around].map((entry) => [entry.id, entry])).values()]
}

async function ask(job: string, state: State): Promise<Told> {
  const here = (): Told => {
    const entries = entriesHere(state, job)
    return entries.length === 0 ? { from: 'unknown' } : { from: 'here', entries }
  }
  if (job === '') return { from: 'unknown' }
  try {
    const response = await fetch(`/api/jobs/${encodeURIComponent(job)}/trace`)
    const body = (await response.json()) as Partial<TraceAnswer>
    if (body.entries) return { from: 'server', entries: body.entries }
    return response.status === 404 || response.status === 400 ? { from: 'unknown' } : here()
  } catch {
    return here()
  }
}

/** A job after a defect: what happened, what was outside, and what may have caused it. */
export function Trace(props: ViewProps) {
  if (props.rest[0] === RECORDS) return <Records {...props} />
  return props.rest[0] === OF ? <Chain {...props} /> : <TraceJob {...props} />
}

function TraceJob({ kiosk, rest: [job = ''] }: ViewProps) {
  const { state, words } = useShop()
  const trace = traceIn(words.value)
  const told = useSignal<Told | null>(null)
  const again = useSignal(0)
  // What is drawn is made anew with the answer, not with the question.
  const times = useSignal(0)
  const known = state.value
  useEffect(() => {
    let isWanted = true
    if (known)
      void ask(job, known).then((answer) => {
        if (!isWanted) return
        told.value = answer
        times.value += 1
      })
    return () => {
      isWanted = false
    }
    // Asked once a page: a chart that moves while it is read is none.
  }, [job, known === null, again.value])
  const is = told.value
  return (
    <div class="form trace">
      <PageHead
        title={trace.title}
        back={trace.history}
        backTo={job === '' ? hashOf('jobs') : hashOf('jobs', job, 'history')}
      >
        <span class="digits">{job}</span>
      </PageHead>
      {is === null && <p class="minor">{trace.reading}</p>}
      {is?.from === 'unknown' && <p class="sentence">{trace.unknown}</p>}
      {is?.from === 'here' && (
        <p class="sentence" role="status">
          {trace.here}
        </p>
      )}
      {is && is.from !== 'unknown' && (
        <JobTraced
          key={times.value}
          entries={is.entries}
          now={kiosk.reading.value.nowMs}
          name={job}
          job={job}
          onSaved={() => {
            again.value += 1
          }}
        />
      )}
      {is?.from === 'server' && <SaveJob job={job} />}
    </div>
  )
}

/** What the shop's clock is ahead of UTC at an instant. */
const offsetOf = (instant: (typed: string) => number, at: number): number => {
  const typed = new Date(at).toISOString().slice(0, 16)
  return Date.parse(`${typed}Z`) - instant(typed)
}

type JobProps = {
  readonly entries: Entries
  readonly now: number
  /** Its id: what a file of it is named by. */
  readonly name: string
  /** Where something may be decided about it; the page that a job is exported as takes no commands. */
  readonly job?: string
  readonly onSaved?: () => void
}

/** What a job's entries tell: on the screen, and on the page that it is exported as. */
export function JobTraced({ entries, now, name, job, onSaved }: JobProps) {
  const { words, format } = useShop()
  const trace = traceIn(words.value)
  const moment = useSignal<number | null>(null)
  const then = useComputed(() => {
    const at = moment.value
    if (at === null) return null
    const known = knownBy(entries, at)
    const all = traced(known)
    const later = laterMarks(entries, at)
    return { at, known, all, later, chart: chartOf(all, known, deviationsIn(known)) }
  })
  const whole = useComputed(() => {
    const all = traced(entries)
    const deviations = [...deviationsIn(entries), ...foundLater(all)].sort((a, b) => a.at - b.at)
    return { all, deviations, chart: chartOf(all, entries, deviations) }
  })
  const { all, deviations, chart } = whole.value
  const shown = useSignal<Span>({ from: chart.from, to: chart.to })
  const picked = useSignal<string | null>(null)
  const top = useRef<HTMLDivElement>(null)
  const onShow = (entry: string, at: number) => {
    const span = shown.value
    const hour = Math.min(span.to - span.from, 3_600_000)
    picked.value = entry
    shown.value = about(at, { from: at - hour / 2, to: at + hour / 2 }, chart)
    top.current?.scrollIntoView({ block: 'start' })
  }
  if (chart.marks.length === 0 || all.panels.every(({ coats }) => coats.length === 0))
    return (
      <>
        <p class="sentence">{trace.nothing}</p>
        <Notices {...{ all, entries, now }} />
        <Deviations deviations={deviations} now={now} onShow={() => {}} />
      </>
    )
  const stops = deviations.filter(({ kind }) => kind !== 'notJudged').map(({ at }) => at)
  const was = then.value
  const drawn = was ? { ...withLater(was.chart, was.later), from: chart.from, to: chart.to } : chart
  return (
    <>
      <Notices {...{ all, entries, now }} />
      <div ref={top}>
        <h2>{trace.chart}</h2>
      </div>
      <Timeline
        chart={drawn}
        shown={shown}
        picked={picked.value}
        stops={stops}
        offsetMs={offsetOf(format.value.instant, chart.from)}
        moment={moment.value}
        name={name}
      />
      <MomentView from={chart.from} to={chart.to} moment={moment} then={was} />
      <MarksTable chart={drawn} now={now} />
      {job !== undefined && <Compare {...{ job, all, entries, now }} />}
      <Deviations {...{ deviations, now, onShow, job }} {...(onSaved ? { onSaved } : {})} />
      <Causes {...{ all, reviews: reviewsIn(entries), onShow, now, job }} />
    </>
  )
}
