import type { Forecast, WhatIf } from '../../machines/plan/forecastTypes.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { contextOf } from '../../machines/state.ts'
import { Press } from '../ui/buttons.tsx'
import { Choice, type Option } from '../ui/parts.tsx'
import { shortLength } from '../units/format.ts'
import { cannotText, jobTitle, panelName, type Say, sheetName } from './daySays.ts'

/** What would be otherwise: a touch, a look beside the plan, and away with it. Nothing of it is recorded. */

const WARMER_C = 5
/** As many panels and activators as fit on a screen. */
const MOST = 4

export type Supposed = { readonly key: string; readonly whatIf: WhatIf }

/** What can be supposed of this shop, each with its word. */
function supposable(say: Say, plan: Forecast): readonly (Option & Supposed)[] {
  const { day, format, state } = say
  const one = (key: string, word: string, whatIf: WhatIf) => ({ value: key, key, word, whatIf })
  const sprayed = new Set(plan.acts.map(({ sheet }) => sheet))
  const activators = currentSheets(state)
    .filter(({ sheet }) => sprayed.has(sheet))
    .flatMap(({ sheet, activators }) => activators.map(({ name }) => ({ sheet, name })))
  const panels = [...new Set(plan.acts.map(({ panel }) => panel))].filter((id) =>
    contextOf(state, 'panel', id),
  )
  const { painters } = plan.means
  return [
    one('warmer', day.supposed.warmer(format.degrees(WARMER_C)), { warmerC: WARMER_C }),
    one('painter', day.supposed.painter, { painters: painters + 1 }),
    ...activators.slice(0, MOST).map(({ sheet, name }) =>
      one(`a ${sheet} ${name}`, day.supposed.activator(name, sheetName(say, sheet)), {
        activators: { [sheet]: name },
      }),
    ),
    ...panels
      .slice(0, MOST)
      .map((id) => one(`p ${id}`, day.supposed.panel(panelName(say, id)), { anotherOf: id })),
  ]
}

type Props = {
  readonly say: Say
  readonly plan: Forecast
  readonly other: Forecast | null
  readonly picked: Supposed | null
  readonly onPick: (supposed: Supposed | null) => void
  readonly now: number
}

export function DayWhatIf({ say, plan, other, picked, onPick, now }: Props) {
  const { day } = say
  const options = supposable(say, plan)
  return (
    <section class="day-group" data-what-if>
      <h2>{day.whatIf}</h2>
      <p class="minor">{day.whatIfHint}</p>
      <Choice
        name="what-if"
        picked={picked?.key ?? null}
        options={options}
        onPick={(value) => {
          const found = options.find(({ key }) => key === value) ?? null
          onPick(found?.key === picked?.key ? null : found)
        }}
      />
      {picked && (
        <>
          {other === null ? (
            <p class="minor">{day.reckoning}</p>
          ) : (
            <Compared say={say} plan={plan} other={other} now={now} />
          )}
          <p>
            <Press act="drop-what-if" onPress={() => onPick(null)}>
              {day.drop}
            </Press>
          </p>
        </>
      )}
    </section>
  )
}

type ComparedProps = {
  readonly say: Say
  readonly plan: Forecast
  readonly other: Forecast
  readonly now: number
}

/** When each job is done, as it is and as it would be. */
function Compared({ say, plan, other, now }: ComparedProps) {
  const { day, format } = say
  const time = (ms: number | null | undefined) =>
    typeof ms === 'number' ? format.timeAndDay(ms, now) : day.notDone
  return (
    <>
      <table class="day-table" data-compared>
        <thead>
          <tr>
            <th />
            <th>{day.today}</th>
            <th>{day.supposedColumn}</th>
          </tr>
        </thead>
        <tbody>
          {other.jobs.map(({ job, doneAtMs }) => {
            const before = plan.jobs.find((one) => one.job === job)?.doneAtMs
            const byMs = typeof before === 'number' && doneAtMs !== null ? doneAtMs - before : null
            return (
              <tr key={job}>
                <th scope="row">{jobTitle(say, job)}</th>
                <td class="digits">{time(before)}</td>
                <td class="digits">
                  {time(doneAtMs)}
                  {byMs !== null && <span class="minor"> {differenceText(say, byMs)}</span>}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
      {other.cannot.map((cannot) => (
        <p key={`${cannot.panel} ${cannot.code}`} class="sentence">
          <b>{panelName(say, cannot.panel)}</b>: {cannotText(say, cannot)}
        </p>
      ))}
    </>
  )
}

function differenceText({ day }: Say, byMs: number): string {
  if (Math.abs(byMs) < 60_000) return day.same
  return byMs < 0 ? day.sooner(shortLength(-byMs)) : day.later(shortLength(byMs))
}
