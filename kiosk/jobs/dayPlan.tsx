import { useSignal } from '@preact/signals'
import type { Forecast } from '../../machines/plan/forecastTypes.ts'
import type { LearnedFigures } from '../../machines/plan/learning.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { Fold, PageHead } from '../ui/parts.tsx'
import * as own from '../words/dayPlan.ts'
import { useOwnWords } from '../words/words.ts'
import { dayOf } from './dayBars.ts'
import { DayChart } from './dayChart.tsx'
import { Group } from './dayGroup.tsx'
import { useForecast, useLearned } from './dayReckoned.ts'
import {
  actText,
  becauseText,
  beforeText,
  cannotText,
  decidesText,
  figureText,
  jobTitle,
  panelName,
  type Say,
  sheetName,
  takenTexts,
  withText,
} from './daySays.ts'
import { DayWhatIf, type Supposed } from './dayWhatIf.tsx'
import { jobsPath, PANEL } from './names.ts'

const NONE: LearnedFigures = {}
const AS_IT_IS = {}
const DAY_MS = 86_400_000

/** The plan of the day: what next, when done, and the day as bars and as a list. */
export function DayPlan({ state, now }: { readonly state: State; readonly now: number }) {
  const { words, format } = useShop()
  const day = useOwnWords(own)
  const say: Say = { state, words: words.value, format: format.value, day }
  const learned = useLearned().value
  const figures = learned === 'away' ? NONE : learned
  const picked = useSignal<Supposed | null>(null)
  const plan = useForecast(state, now, figures, AS_IT_IS)
  const other = useForecast(state, now, figures, picked.value?.whatIf ?? null)
  return (
    <div class="form jobs day-plan">
      <PageHead title={day.title} back={words.value.jobs.back} backTo={jobsPath()}>
        <Press act="print-day" onPress={() => window.print()}>
          {day.print}
        </Press>
      </PageHead>
      {plan === null ? (
        <p class="minor">{day.reckoning}</p>
      ) : plan.acts.length + plan.cannot.length === 0 ? (
        <Empty say={say} plan={plan} />
      ) : (
        <>
          <Next say={say} plan={plan} now={now} />
          <Tonight say={say} plan={plan} now={now} />
          <Cannot say={say} plan={plan} />
          <Done say={say} plan={plan} now={now} />
          <Group title={day.chart}>
            <DayChart say={say} day={dayOf(state, plan, now)} now={now} />
          </Group>
          <List say={say} plan={plan} now={now} />
          <Material say={say} plan={plan} />
          <DayWhatIf
            say={say}
            plan={plan}
            other={other}
            picked={picked.value}
            onPick={(one) => {
              picked.value = one
            }}
            now={now}
          />
          <Taken say={say} plan={plan} />
        </>
      )}
      <Learned say={say} learned={learned} />
      <p class="cautions minor">{day.caution}</p>
    </div>
  )
}

type Props = { readonly say: Say; readonly plan: Forecast }
type TimedProps = Props & { readonly now: number }

function Empty({ say, plan }: Props) {
  const { day } = say
  return (
    <section class="empty">
      <h2>{day.nothing}</h2>
      <p>{day.nothingHint}</p>
      {plan.paused.length > 0 && (
        <p>{day.paused(plan.paused.map((job) => jobTitle(say, job)).join(', '))}</p>
      )}
    </section>
  )
}

function Next({ say, plan, now }: TimedProps) {
  const { day, format, state } = say
  const { next } = plan
  if (!next) return null
  const { act } = next
  const when = act.fromMs <= now ? day.now : day.from(format.timeAndDay(act.fromMs, now))
  const job = contextOf(state, 'panel', act.panel)?.job ?? act.job
  return (
    <section class="day-group day-next" data-next={act.panel}>
      <h2>{day.next}</h2>
      <a class="button main row" href={jobsPath(job, PANEL, act.panel)}>
        <b>
          {panelName(say, act.panel)}: {actText(say, act)}
        </b>
        <span>{[when, withText(say, act)].filter((text) => text !== '').join(' · ')}</span>
      </a>
      <p>{[becauseText(say, plan, now), beforeText(say, plan)].join(' ')}</p>
    </section>
  )
}

function Tonight({ say, plan, now }: TimedProps) {
  const { day, format, words } = say
  if (plan.tonight.length === 0) return null
  return (
    <Group title={day.tonight}>
      <ul class="rows day-rows" data-tonight>
        {plan.tonight.map(({ panel, job, stage, shutsAtMs }) => (
          <li key={panel} class="day-row">
            <span>
              <b>{panelName(say, panel)}</b>{' '}
              {day.tonightWhy(words.stage[stage], format.timeAndDay(shutsAtMs, now))}
            </span>
            <a class="button" href={jobsPath(job, PANEL, panel)}>
              {panelName(say, panel)}
            </a>
          </li>
        ))}
      </ul>
    </Group>
  )
}

function Cannot({ say, plan }: Props) {
  const { day } = say
  if (plan.cannot.length === 0) return null
  return (
    <Group title={day.cannot}>
      {plan.cannot.map((cannot) => (
        <p key={cannot.panel} class="sentence" data-cannot={cannot.code}>
          <b>{panelName(say, cannot.panel)}</b>: {cannotText(say, cannot)}
        </p>
      ))}
    </Group>
  )
}

/** The end of a job: tomorrow in words, for it is what a customer is told. */
const doneText = ({ day, format }: TimedProps['say'], ms: number, now: number): string =>
  format.date(ms, now) === format.date(now + DAY_MS, now)
    ? day.tomorrow(format.time(ms))
    : format.timeAndDay(ms, now)

function Done({ say, plan, now }: TimedProps) {
  const { day, format } = say
  const time = (ms: number) => format.timeAndDay(ms, now)
  // The spread names its day only where it is another one than that of the end.
  const near = (ms: number, doneMs: number) =>
    format.date(ms, now) === format.date(doneMs, now) ? format.time(ms) : time(ms)
  return (
    <Group title={day.done}>
      <ul class="rows day-rows">
        {plan.jobs.map((job) => (
          <li key={job.job} class="day-done" data-done-job={job.job}>
            <a class="button row" href={jobsPath(job.job)}>
              <b>{jobTitle(say, job.job)}</b>
              <span class="digits">
                {job.doneAtMs === null
                  ? day.notDone
                  : day.doneAt(
                      doneText(say, job.doneAtMs, now),
                      near(job.earlyMs ?? job.doneAtMs, job.doneAtMs),
                      near(job.lateMs ?? job.doneAtMs, job.doneAtMs),
                    )}
              </span>
              <span class="minor">{decidesText(say, job)}</span>
            </a>
          </li>
        ))}
      </ul>
      {plan.paused.length > 0 && (
        <p class="minor">{day.paused(plan.paused.map((job) => jobTitle(say, job)).join(', '))}</p>
      )}
    </Group>
  )
}

function List({ say, plan, now }: TimedProps) {
  const { day, format } = say
  return (
    <Group title={day.list}>
      <table class="day-table" data-plan>
        <thead>
          <tr>
            <th>{day.columns.time}</th>
            <th>{day.columns.panel}</th>
            <th>{day.columns.what}</th>
            <th>{day.columns.with}</th>
          </tr>
        </thead>
        <tbody>
          {plan.acts.map((act) => (
            <tr key={`${act.panel} ${act.step} ${act.fromMs}`}>
              <td class="digits">{format.timeAndDay(act.fromMs, now)}</td>
              <th scope="row">{panelName(say, act.panel)}</th>
              <td>{actText(say, act)}</td>
              <td class="minor">{withText(say, act)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Group>
  )
}

function Material({ say, plan }: Props) {
  const { day, format } = say
  if (plan.material.length === 0) return null
  return (
    <Group title={day.material}>
      <dl class="facts">
        {plan.material.map(({ sheet, volumeMl, fromMl, toMl }) => (
          <div key={sheet}>
            <dt class="minor">{sheetName(say, sheet)}</dt>
            <dd>
              {day.about(format.volume(volumeMl), format.volume(fromMl), format.volume(toMl))}
            </dd>
          </div>
        ))}
      </dl>
    </Group>
  )
}

function Taken({ say, plan }: Props) {
  return (
    <Group title={say.day.takes}>
      <p>{takenTexts(say, plan).join(' · ')}</p>
    </Group>
  )
}

type LearnedProps = { readonly say: Say; readonly learned: LearnedFigures | 'away' | null }

/** Each figure with what a painter can check it by: median, spread, number of cases, the sheet's weight. */
function Learned({ say, learned }: LearnedProps) {
  const { day, format } = say
  if (learned === null) return null
  const rows = learned === 'away' ? [] : Object.entries(learned)
  const times = (value: number) => `× ${format.number(value, 2)}`
  const { figure, median, half, cases, sheet } = day.learnedColumns
  return (
    <Fold act="learned" word={day.learned}>
      <p class="minor">
        {learned === 'away'
          ? day.learnedAway
          : rows.length === 0
            ? day.learnedNone
            : day.learnedHint}
      </p>
      {rows.length > 0 && (
        <table class="day-table" data-learned>
          <thead>
            <tr>
              {[figure, median, half, cases, sheet].map((word) => (
                <th key={word}>{word}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([key, one]) => (
              <tr key={key}>
                <th scope="row">{figureText(say, key)}</th>
                <td class="digits">{times(one.median ?? 1)}</td>
                <td class="digits">{one.spread.map(times).join(' – ')}</td>
                <td class="digits">{one.cases}</td>
                <td class="digits">{Math.round(100 * one.sheetWeight)} %</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </Fold>
  )
}
