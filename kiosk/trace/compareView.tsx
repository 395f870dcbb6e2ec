import { useComputed, useSignal } from '@preact/signals'
import type { AlikeAnswer, AlikeJob } from '../../machines/contract/genealogy.ts'
import type { TraceAnswer } from '../../machines/contract.ts'
import type { Draft, Entry } from '../../machines/envelope.ts'
import type { Traced } from '../../machines/trace/trace.ts'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { Choice } from '../ui/parts.tsx'
import { shortLength } from '../units/format.ts'
import { timelineIn } from '../words/timeline.ts'
import type { Span } from './axis.ts'
import { type Compared, compared, comparedChart } from './compare.ts'
import { lengthText } from './say.ts'
import { MarksTable } from './table.tsx'
import { Timeline } from './timeline.tsx'

type Props = {
  readonly job: string
  readonly all: Traced
  readonly entries: readonly (Draft | Entry)[]
  readonly now: number
}

type Found =
  | { readonly is: 'asked' }
  | { readonly is: 'away' }
  | { readonly is: 'found'; readonly jobs: readonly AlikeJob[]; readonly told: readonly Compared[] }

/** The jobs that went well, and each of them as it is traced. @throws where the server cannot be reached */
async function ask(job: string): Promise<Found> {
  const answer = await fetch(`/api/jobs/${encodeURIComponent(job)}/alike`)
  if (!answer.ok) return { is: 'away' }
  const { jobs } = (await answer.json()) as AlikeAnswer
  const told: Compared[] = []
  for (const one of jobs) {
    const traceOf = await fetch(`/api/jobs/${encodeURIComponent(one.job)}/trace`)
    if (!traceOf.ok) continue
    const { entries } = (await traceOf.json()) as TraceAnswer
    told.push(compared(one.job, one.title, entries))
  }
  return { is: 'found', jobs, told }
}

/** This job beside up to three of the same products that went well, each from its first coat on. */
export function Compare({ job, all, entries, now }: Props) {
  const { words, format } = useShop()
  const say = timelineIn(words.value)
  const found = useSignal<Found | null>(null)
  const picked = useSignal<readonly string[]>([])
  const load = async () => {
    found.value = { is: 'asked' }
    const answer = await ask(job).catch((): Found => ({ is: 'away' }))
    found.value = answer
    if (answer.is === 'found') picked.value = answer.told.map((one) => one.job)
  }
  const is = found.value
  return (
    <section class="stack" data-compare={is?.is ?? ''}>
      <h2>{say.compare}</h2>
      {(is === null || is.is === 'away') && (
        <Press act="compare" onPress={load}>
          {say.compareKey}
        </Press>
      )}
      {is?.is === 'asked' && <p class="minor">{say.comparing}</p>}
      {is?.is === 'away' && (
        <p class="sentence" role="alert">
          {say.compareAway}
        </p>
      )}
      {is?.is === 'found' && is.told.length === 0 && <p class="sentence">{say.noneAlike}</p>}
      {is?.is === 'found' && is.told.length > 0 && (
        <>
          <Choice
            name="alike"
            picked={picked.value}
            options={is.jobs.map((one) => ({
              value: one.job,
              word: [
                one.title,
                format.value.date(one.at, now),
                one.isSameColour ? say.sameColour : '',
              ]
                .filter((part) => part !== '')
                .join(' · '),
            }))}
            onPick={(id) => {
              picked.value = picked.value.includes(id)
                ? picked.value.filter((one) => one !== id)
                : [...picked.value, id]
            }}
          />
          <Drawn
            key={picked.value.join(' ')}
            jobs={[
              { job, title: say.thisJob, all, entries },
              ...is.told.filter((one) => picked.value.includes(one.job)),
            ]}
            now={now}
          />
        </>
      )}
    </section>
  )
}

function Drawn({ jobs, now }: { readonly jobs: readonly Compared[]; readonly now: number }) {
  const chart = useComputed(() => comparedChart(jobs)).value
  const shown = useSignal<Span>({ from: chart.from, to: chart.to })
  const sign = (ms: number, length = lengthText) => `${ms < 0 ? '−' : '+'}${length(Math.abs(ms))}`
  return (
    <>
      <Timeline
        chart={chart}
        shown={shown}
        picked={null}
        stops={[]}
        offsetMs={0}
        name={jobs.map(({ job }) => job).join('-')}
        moment={null}
        label={(ms) => sign(ms, shortLength)}
      />
      <MarksTable chart={chart} now={now} label={(ms) => sign(ms)} />
    </>
  )
}
