import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import type { FoundJob, JobsAnswer } from '../../machines/contract.ts'
import { isFound, type JobQuery, jobQuery, searchText } from '../../machines/job/search.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { Field } from '../forms/fields.tsx'
import { Sentence } from '../ui/answer.tsx'
import * as own from '../words/find.ts'
import { useOwnWords } from '../words/words.ts'
import { HISTORY, jobsPath } from './names.ts'
import { jobOf, panelsOf } from './panelView.ts'

/** As long after the last letter the server is asked. */
const PAUSE_MS = 200
const PAGE = 50

type Answer =
  | { readonly kind: 'told'; readonly typed: string; readonly told: JobsAnswer }
  /** Nobody answered: only what this kiosk holds is found. */
  | { readonly kind: 'here'; readonly typed: string }

async function ask(typed: string, limit: number): Promise<Answer> {
  try {
    const asked = new URLSearchParams({ find: typed, limit: String(limit) })
    const response = await fetch(`/api/jobs?${asked}`)
    if (!response.ok) return { kind: 'here', typed }
    return { kind: 'told', typed, told: (await response.json()) as JobsAnswer }
  } catch {
    return { kind: 'here', typed }
  }
}

/** What this kiosk knows itself, found in the same way as the server finds it. */
function foundHere(state: State, query: JobQuery): FoundJob[] {
  return Object.entries(state.things.job).flatMap(([job, { value, context }]): FoundJob[] => {
    if (value === 'unknown') return []
    const { title, vehicle, openedAt, closedAt } = context
    const colours = context.colours.map(({ key, code, variant = null }) => ({ key, code, variant }))
    const panels = panelsOf(state, job).map(({ panel }) => panel.name)
    const lastAt = Math.max(openedAt, closedAt ?? 0, ...context.notes.map(({ at }) => at))
    const named = colours.flatMap(({ key, code, variant }) => [key, code, variant ?? ''])
    const text = searchText([job, title, vehicle ?? '', ...named, ...panels])
    const isIt = isFound({ text, openedAt, lastAt }, query)
    return isIt ? [{ job, title, vehicle, colours, panels, openedAt, closedAt, lastAt }] : []
  })
}

type Props = {
  readonly state: State
  readonly now: number
  /** What stands here while nothing is looked for. */
  readonly children: ComponentChildren
}

/** Any job of the shop, by what somebody remembers of it; those closed years ago as well. */
export function FindJob({ state, now, children }: Props) {
  const say = useOwnWords(own)
  const typed = useSignal('')
  const limit = useSignal(PAGE)
  const answer = useSignal<Answer | null>(null)
  const wanted = typed.value.trim()
  useEffect(() => {
    if (wanted === '') return
    let isWanted = true
    const asking = setTimeout(async () => {
      const got = await ask(wanted, limit.value)
      if (isWanted) answer.value = got
    }, PAUSE_MS)
    return () => {
      isWanted = false
      clearTimeout(asking)
    }
  }, [wanted, limit.value])
  const said = answer.value?.typed === wanted ? answer.value : null
  return (
    <>
      <search class="find">
        <Field
          name="find"
          word={say.find}
          value={typed.value}
          onInput={(text) => {
            typed.value = text
            limit.value = PAGE
          }}
        />
        {typed.value !== '' && (
          <button
            type="button"
            onClick={() => {
              typed.value = ''
            }}
          >
            {say.clear}
          </button>
        )}
      </search>
      {wanted === '' ? (
        children
      ) : (
        <Found
          {...{ state, now, wanted, said }}
          onMore={() => {
            limit.value += PAGE
          }}
        />
      )}
    </>
  )
}

type FoundProps = Omit<Props, 'children'> & {
  readonly wanted: string
  readonly said: Answer | null
  readonly onMore: () => void
}

function Found({ state, now, wanted, said, onMore }: FoundProps) {
  const say = useOwnWords(own)
  const { timeZone } = settingsOf(state)
  const told = said?.kind === 'told' ? said.told : null
  const rows = told?.jobs ?? foundHere(state, jobQuery(wanted, now, timeZone))
  const counted = said === null ? '' : say.found(rows.length, told?.isMore ?? false)
  return (
    <section aria-label={say.find}>
      <p class="minor" role="status" data-found={said?.kind}>
        {counted}
        {told && told.behind > 0 && ` ${say.behind(told.behind)}`}
      </p>
      {said?.kind === 'here' && <Sentence>{say.foundHere}</Sentence>}
      {said !== null && rows.length === 0 && <Sentence>{say.nothingFound(wanted)}</Sentence>}
      <ul class="rows job-rows">
        {rows.map((found) => (
          <FoundRow key={found.job} state={state} found={found} />
        ))}
      </ul>
      {told?.isMore && rows.length < 200 && (
        <div class="acts">
          <button type="button" onClick={onMore}>
            {say.moreFound}
          </button>
        </div>
      )}
    </section>
  )
}

function FoundRow({ state, found }: { readonly state: State; readonly found: FoundJob }) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const { job, title, vehicle, colours, panels, openedAt, closedAt } = found
  const [from, to] = [openedAt, closedAt ?? openedAt].map(format.value.fullDate) as [string, string]
  const lasted = from === to ? from : say.openFromTo(from, to)
  const when = closedAt === null ? say.openSince(from) : lasted
  const codes = [...new Set(colours.map(({ code }) => code))].join(', ')
  const said = [job, when, vehicle ?? '', codes, panels.join(', ')]
  return (
    <li>
      <a
        class="button row"
        href={jobOf(state, job) ? jobsPath(job) : jobsPath(job, HISTORY)}
        data-job={job}
      >
        <b>{title}</b>
        <span class="minor">{said.filter((text) => text !== '').join(' · ')}</span>
      </a>
    </li>
  )
}
