import { type Signal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import {
  type BackupProgress,
  type BackupSchedule,
  type BackupsAnswer,
  KEEP,
  keepSchema,
  scheduleSchema,
} from '../../machines/contract/backup.ts'
import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { read, written } from '../forms/draft.ts'
import { FieldsOf } from '../forms/form.tsx'
import { fieldsOf } from '../forms/spec.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import * as own from '../words/backup.ts'
import { useOwnWords } from '../words/words.ts'
import type { SectionProps } from './things.tsx'

type Told =
  | { readonly kind: 'told'; readonly answer: BackupsAnswer }
  /** A practice shop has none. */
  | { readonly kind: 'none' }
  /** Null where the server did not answer. */
  | { readonly kind: 'not'; readonly error: ToldError | null }

async function asked(path = '', body?: object): Promise<Told> {
  const init: RequestInit = body
    ? {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(body),
      }
    : { cache: 'no-store' }
  try {
    const response = await fetch(`/api/backup${path}`, init)
    const answer = (await response.json()) as BackupsAnswer & { error?: ToldError }
    if (response.ok) return { kind: 'told', answer }
    return response.status === 404 ? { kind: 'none' } : { kind: 'not', error: answer.error ?? {} }
  } catch {
    return { kind: 'not', error: null }
  }
}

/** How often the server is asked how far it is, and how things stand. */
const RUNNING_MS = 1_000
const RESTING_MS = 10_000

/** When and where backups are made, how the last one went, and one now. */
export function Backup({ now }: SectionProps) {
  const say = useOwnWords(own)
  const told = useSignal<Told | null>(null)
  const last = useSignal<BackupsAnswer | null>(null)
  const take = (answer: Told) => {
    told.value = answer
    if (answer.kind === 'told') last.value = answer.answer
  }
  const every = last.value?.running ? RUNNING_MS : RESTING_MS
  useEffect(() => {
    let isWanted = true
    void asked().then((answer) => {
      // A sentence about what was asked for stays until something else is asked.
      const isOfPress = told.value?.kind === 'not' && told.value.error !== null
      if (!isWanted || (isOfPress && answer.kind === 'told')) return
      take(answer)
    })
    return () => {
      isWanted = false
    }
  }, [Math.floor(now / every)])
  if (told.value?.kind === 'none') return <p>{say.none}</p>
  const answer = last.value
  return (
    <section class="stack" data-backup={answer?.schedule ? 'set' : 'notSet'}>
      <h2>{say.title}</h2>
      {answer === null ? (
        <p class="minor">{told.value === null ? say.reading : say.away}</p>
      ) : (
        <>
          <Standing answer={answer} />
          <ScheduleForm
            key={JSON.stringify(answer.schedule)}
            answer={answer}
            told={told}
            take={take}
          />
          <p class="minor">{say.restore}</p>
        </>
      )}
    </section>
  )
}

/** How the backups stand, in words. */
function Standing({ answer }: { answer: BackupsAnswer }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const when = (ms: number) => `${format.value.fullDate(ms)} ${format.value.time(ms)}`
  const { schedule, lastDone, lastFailed, running, nextMs, isSameDisk } = answer
  if (schedule === null && lastDone === null && lastFailed === null)
    return (
      <>
        <p class="sentence">{say.notSet}</p>
        <p>{say.how}</p>
      </>
    )
  return (
    <>
      {running ? (
        <Running progress={running} />
      ) : (
        lastFailed && (
          <p class="sentence" role="alert" data-failed={lastFailed.trouble.code}>
            {say.failed(when(lastFailed.atMs))}{' '}
            {wrongText(
              { code: 'noBackup', params: { trouble: lastFailed.trouble } },
              { words: words.value, format: format.value },
            )}{' '}
            {schedule && say.again}
          </p>
        )
      )}
      <p data-last={lastDone ? 'done' : 'none'}>
        {lastDone
          ? say.last(when(lastDone.atMs), format.value.number(lastDone.head, 0))
          : say.lastNone}{' '}
        {nextMs !== null && say.next(when(nextMs))}
      </p>
      {lastDone && <p class="minor">{say.path(lastDone.path)}</p>}
      {lastDone && lastDone.missing > 0 && <p class="sentence">{say.missing(lastDone.missing)}</p>}
      {isSameDisk && (
        <p class="sentence" data-same-disk>
          {say.sameDisk}
        </p>
      )}
    </>
  )
}

function Running({ progress: { step, done, of } }: { progress: BackupProgress }) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const { number } = format.value
  return (
    <p class="sentence" role="status" data-running={step}>
      {say.steps[step]} {of > 0 && <b class="digits">{say.of(number(done, 0), number(of, 0))}</b>}
    </p>
  )
}

type FormProps = {
  readonly answer: BackupsAnswer
  readonly told: Signal<Told | null>
  readonly take: (answer: Told) => void
}

const SCHEDULE = {
  ...fieldsOf(scheduleSchema, { only: ['folder', 'hour'], steps: { hour: 1 } }),
  ...fieldsOf(keepSchema, { steps: { days: 1, weeks: 1, months: 1 } }),
}
const FORM = { kind: 'group', fields: SCHEDULE } as const
const FIRST: BackupSchedule = { folder: '', hour: 3, keep: KEEP }

function ScheduleForm({ answer, told, take }: FormProps) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const { keep, ...schedule } = answer.schedule ?? FIRST
  const draft = useSignal(written(FORM, { ...schedule, ...keep }))
  const isBusy = useSignal(false)
  const isSure = useSignal(false)
  const isSaved = useSignal(false)
  const ask = async (path: string, body: object) => {
    isBusy.value = true
    isSaved.value = false
    const answered = await asked(path, body)
    isBusy.value = false
    isSaved.value = answered.kind === 'told' && path === '/set'
    take(answered)
  }
  const set = () => {
    const { folder, hour, ...kept } = read(FORM, draft.value) as Readonly<Record<string, unknown>>
    return ask('/set', { schedule: { folder, hour, keep: kept } })
  }
  const error = told.value?.kind === 'not' ? told.value.error : undefined
  const field = error?.field?.split('.').at(-1)
  const isOfField = field !== undefined && field in SCHEDULE
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        void set()
      }}
    >
      <FieldsOf
        fields={SCHEDULE}
        draft={draft.value}
        fieldWords={say.fields}
        wrong={isOfField ? [{ ...error, field }] : []}
        onChange={(to) => {
          isSaved.value = false
          draft.value = to
        }}
      />
      {error !== undefined && !isOfField && (
        <Sentence>
          {error === null
            ? say.away
            : wrongText(error, { words: words.value, format: format.value })}
        </Sentence>
      )}
      {isSaved.value && <p role="status">{say.saved}</p>}
      <div class="choices">
        <button type="submit" disabled={isBusy.value}>
          {say.save}
        </button>
        {answer.schedule && (
          <Press
            act="backUpNow"
            isOff={isBusy.value || answer.running !== null}
            onPress={() => ask('/now', {})}
          >
            {say.now}
          </Press>
        )}
        {answer.schedule && (
          <Press
            isOff={isBusy.value}
            onPress={() => {
              if (isSure.value) void ask('/set', { schedule: null })
              else isSure.value = true
            }}
          >
            {isSure.value ? say.offSure : say.off}
          </Press>
        )}
      </div>
    </form>
  )
}
