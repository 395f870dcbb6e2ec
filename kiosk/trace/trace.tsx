import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { TraceAnswer } from '../../machines/contract.ts'
import type { Draft, Entry } from '../../machines/envelope.ts'
import { relatedEntries } from '../../machines/job/relatedEntries.ts'
import { type State, thingOf } from '../../machines/state.ts'
import { jobName } from '../commands/panelName.ts'
import { lastUndone } from '../commands/presses.ts'
import { useShop } from '../commands/shop.ts'
import { OF, RECORDS } from '../ui/chainLink.tsx'
import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { SaveJob } from '../ui/saveJob.tsx'
import type { ViewProps } from '../ui/screen.tsx'
import { traceIn } from '../words/traceIn.ts'
import { Chain } from './chain.tsx'
import { JobTraced } from './jobTraced.tsx'
import { Records } from './records.tsx'

type Entries = readonly (Draft | Entry)[]
/** From the server; `here` is what this kiosk has while the server is away. */
type Told =
  | { readonly from: 'server' | 'here'; readonly job: string; readonly entries: Entries }
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
    return entries.length === 0 ? { from: 'unknown' } : { from: 'here', job, entries }
  }
  if (job === '') return { from: 'unknown' }
  try {
    const response = await fetch(`/api/jobs/${encodeURIComponent(job)}/trace`)
    const body = (await response.json()) as Partial<TraceAnswer>
    if (body.entries) return { from: 'server', job, entries: body.entries }
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
  const known = state.value
  useEffect(() => {
    let isWanted = true
    if (known)
      void ask(job, known).then((answer) => {
        if (isWanted) told.value = answer
      })
    return () => {
      isWanted = false
    }
    // Asked once a page: a chart that moves while it is read is none.
    // What was decided here and taken back by the undo bar is asked for again, as the decision was.
  }, [job, known === null, again.value, lastUndone.value])
  const is = told.value
  return (
    <div class="form trace">
      <PageHead
        title={
          known && thingOf(known, { kind: 'job', id: job }) ? jobName(known, job) : trace.title
        }
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
          // Asked again after a decision it stays where it was looked at; another job's is made anew.
          key={is.job}
          entries={is.entries}
          // Of the moment of the answer: a page that is read is not drawn anew by a clock.
          now={kiosk.reading.peek().nowMs}
          name={is.job}
          job={is.job}
          onSaved={() => {
            again.value += 1
          }}
        />
      )}
      {is?.from === 'server' && <SaveJob job={job} />}
    </div>
  )
}
