import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { TimelineAnswer } from '../../machines/contract.ts'
import { byOccurrence, type Draft, type Entry } from '../../machines/envelope.ts'
import type { Step } from '../../machines/job/steps.ts'
import type { Rested } from '../../machines/refusalParams.ts'
import type { State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { ChainLink } from '../ui/chainLink.tsx'
import { fromHere } from '../ui/here.ts'
import { PhotoImage } from '../ui/outboxParts.tsx'
import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { VoidIt } from '../ui/voidIt.tsx'
import { historyIn } from '../words/historyIn.ts'
import { type Fact, factsOf, sheetNames } from './entryFacts.ts'
import { FoundLater } from './foundLater.tsx'
import { entriesHere, type Line, linesOf, stepsHere } from './historyLines.ts'
import { HISTORY, jobsPath, namesIn } from './names.ts'
import { jobOf } from './panelView.ts'

type Props = {
  readonly state: State
  readonly job: string
  /** The entry whose line is open at first. */
  readonly opened?: string | undefined
  readonly now: number
}

/** From the server; with `here`, only what this kiosk knows. */
type Told =
  | {
      readonly kind: 'told'
      readonly entries: readonly Entry[]
      readonly steps: readonly Step[]
    }
  | { readonly kind: 'unknown' | 'here' }

async function ask(job: string): Promise<Told> {
  try {
    const response = await fetch(`/api/jobs/${encodeURIComponent(job)}/timeline`)
    const body = (await response.json()) as Partial<TimelineAnswer> & { error?: object }
    const { entries, steps = [] } = body
    if (entries) return { kind: 'told', entries, steps }
    const isOurs = body.error !== undefined && response.status < 500
    return { kind: isOurs ? 'unknown' : 'here' }
  } catch {
    return { kind: 'here' }
  }
}

/** What happened to a job, in order; nothing is ever gone from it. */
export function History({ state, job, opened, now }: Props) {
  const { words, format } = useShop()
  const { jobs } = words.value
  const history = historyIn(words.value)
  const told = useSignal<Told | null>(null)
  const own = entriesHere(state, job)
  // Asked again whenever something of the job came in.
  useEffect(() => {
    let isWanted = true
    void ask(job).then((answer) => {
      if (isWanted) told.value = answer
    })
    return () => {
      isWanted = false
    }
  }, [job, own.length])
  if (told.value === null) return <p class="minor">…</p>
  const { entries, steps } =
    told.value.kind === 'told' ? told.value : { entries: own, steps: stepsHere(state, own) }
  const say = { words: words.value, format: format.value, names: namesIn(state) }
  const lines = linesOf(entries, say, steps)
  const title = jobOf(state, job)?.title ?? openedAs(entries) ?? job
  return (
    <div class="form jobs">
      <PageHead
        title={`${history.title}: ${title}`}
        back={jobs.back}
        backTo={jobOf(state, job) ? jobsPath(job) : jobsPath()}
      >
        <span class="digits">{job}</span>
        <a class="button" href={hashOf('trace', job)}>
          {history.trace}
        </a>
      </PageHead>
      {told.value.kind === 'here' && (
        <p class="sentence" role="status">
          {history.here}
        </p>
      )}
      {told.value.kind === 'unknown' && lines.length === 0 && (
        <Sentence>{words.value.jobs.unknown(job)}</Sentence>
      )}
      <FoundLater job={job} />
      <Lines
        lines={lines}
        factsOf={factsIn(entries, { ...say, names: { ...say.names, sheet: sheetNames(state) } })}
        cupOf={(id) => entries.find((entry) => entry.id === id)?.cup}
        opened={opened}
        now={now}
      />
      {told.value.kind !== 'unknown' && !jobOf(state, job) && lines.length > 0 && (
        <Reopen job={job} now={now} />
      )}
    </div>
  )
}

const openedAs = (entries: readonly Draft[]): string | null => {
  const title = entries.find((entry) => entry.type === 'JobOpened')?.data.title
  return typeof title === 'string' ? title : null
}

/** A job closed long ago: this kiosk gets it again only with a new state. */
function Reopen({ job, now }: { job: string; now: number }) {
  const { jobs } = useWords()
  const { sending, ask: send } = useCommands()
  const reopen = async () => {
    const isHere = fromHere()
    const sent = await send('ReopenJob', { job })
    if (sent.kind !== 'kept') return
    if (isHere()) location.hash = jobsPath(job)
    location.reload()
  }
  return (
    <div class="acts">
      <Press act="ReopenJob" onPress={reopen}>
        {jobs.reopen}
      </Press>
      <Answer sending={sending.value} now={now} />
    </div>
  )
}

type FactsOf = (id: string) => readonly Fact[]

/** What one entry of a history knows. */
function factsIn(entries: readonly Draft[], say: Parameters<typeof factsOf>[3]): FactsOf {
  const sorted = entries.toSorted(byOccurrence)
  const byId = new Map(sorted.map((entry) => [entry.id, entry]))
  const voided = new Set(
    sorted.filter(({ type }) => type === 'EntryVoided').map(({ data }) => String(data.entry)),
  )
  return (id) => {
    const entry = byId.get(id)
    return entry ? factsOf(entry, sorted, voided, say) : []
  }
}

/** All that the touched entry knows, in words. */
function Facts({ facts }: { facts: readonly Fact[] }) {
  const { none } = historyIn(useWords()).facts
  if (facts.length === 0) return <p class="minor">{none}</p>
  return (
    <dl class="facts">
      {facts.map(({ word, text }) => (
        <div key={word}>
          <dt class="minor">{word}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  )
}

type LinesProps = {
  readonly lines: readonly Line[]
  readonly factsOf: FactsOf
  readonly cupOf: (id: string) => string | undefined
  readonly opened: string | undefined
  readonly now: number
}

function Lines({ lines, factsOf, cupOf, opened, now }: LinesProps) {
  const history = historyIn(useWords())
  const at = useSignal(opened ?? null)
  const sought = useSignal(opened ?? null)
  const list = useRef<HTMLOListElement>(null)
  useEffect(() => {
    if (sought.value === null) return
    list.current
      ?.querySelector(`[data-line="${CSS.escape(sought.value)}"]`)
      ?.scrollIntoView({ block: 'center' })
    sought.value = null
  }, [sought.value])
  /** In this history, else in that of the job which it is of. */
  const wayTo = ({ entry, needing }: Rested) => {
    if (lines.some(({ id }) => id === entry))
      return (
        <Press
          act="showNeeding"
          onPress={() => {
            at.value = entry
            sought.value = entry
          }}
        >
          {history.showNeeding}
        </Press>
      )
    return (
      needing?.job && (
        <a class="button" href={jobsPath(needing.job, HISTORY, entry)}>
          {history.showNeeding}
        </a>
      )
    )
  }
  if (lines.length === 0) return <p class="minor">{history.empty}</p>
  return (
    <ol class="rows history" ref={list}>
      {lines.map((line) => (
        <li key={line.id}>
          <button
            type="button"
            class="row line"
            data-line={line.id}
            data-type={line.type}
            data-voided={line.voided ? '' : undefined}
            aria-expanded={at.value === line.id}
            onClick={() => {
              at.value = at.value === line.id ? null : line.id
            }}
          >
            <LineText line={line} now={now} />
          </button>
          {at.value === line.id && <Facts facts={factsOf(line.id)} />}
          {at.value === line.id && cupOf(line.id) && (
            <ChainLink kind="cup" id={cupOf(line.id) ?? ''} />
          )}
          {at.value === line.id && line.mayVoid && (
            <VoidIt entry={line.id} now={now} wayTo={wayTo} />
          )}
        </li>
      ))}
    </ol>
  )
}

function LineText({ line, now }: { line: Line; now: number }) {
  const { words, format } = useShop()
  const history = historyIn(words.value)
  const time = (ms: number) => format.value.timeAndDay(ms, now)
  const marks = [
    ...line.outside.map((text) => `${history.outside}: ${text}`),
    ...(line.override
      ? [`${history.override}: ${[line.override.reason, ...line.override.broken].join(', ')}`]
      : []),
    ...(line.notJudged.length > 0 ? [`${history.notJudged}: ${line.notJudged.join(', ')}`] : []),
    ...line.notTaken.map((why) => `${history.notTaken}: ${why}`),
    ...(line.corrects ? [history.corrects] : []),
  ]
  const late = [
    line.enteredAt === null ? '' : history.late(time(line.enteredAt)),
    line.recordedAt === null ? '' : history.recorded(time(line.recordedAt)),
  ].filter((text) => text !== '')
  const said = [line.panel, line.reason, line.by].filter((text) => text !== null)
  return (
    <>
      <span class="when digits">{time(line.at)}</span>
      <span class="what">
        {line.voided ? <s>{line.what}</s> : <b>{line.what}</b>}
        {said.length > 0 && <span class="minor"> {said.join(' · ')}</span>}
        {line.came !== null && <span class="minor"> {line.came}</span>}
        {late.length > 0 && <span class="late minor"> ({late.join(', ')})</span>}
        {marks.map((mark) => (
          <span class="remark" key={mark}>
            {mark}
          </span>
        ))}
        {line.voided && (
          <span class="remark">{history.voided(time(line.voided.at), line.voided.reason)}</span>
        )}
        {line.photo && <PhotoImage class="line-photo" photo={line.photo} alt="" />}
      </span>
    </>
  )
}
