import type {
  CannotBe,
  Forecast,
  JobForecast,
  PlannedAct,
} from '../../machines/plan/forecastTypes.ts'
import type { Stage } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { jobName, panelName as nameOf } from '../commands/panelName.ts'
import { type Format, shortLength } from '../units/format.ts'
import type { en } from '../words/dayPlan.ts'
import type { Words } from '../words/en.ts'
import { namesIn } from './names.ts'

/** What a plan says, in words. Pure. */

export type DayWords = typeof en
export type Say = {
  readonly state: State
  readonly words: Words
  readonly format: Format
  readonly day: DayWords
}

/** The panel of "one more like it", which is on no job. */
export const panelName = ({ state, day }: Say, id: string): string =>
  nameOf(state, id, day.supposedColumn)

export const jobTitle = ({ state }: Say, id: string): string => jobName(state, id)

export const sheetName = ({ state }: Say, id: string | null | undefined): string =>
  contextOf(state, 'sheet', id ?? undefined)?.versions.at(-1)?.sheet.name ?? id ?? ''

const stageName = ({ words }: Say, stage: Stage): string => words.stage[stage]

/** What an act is: "clear, coat 1 of 2", "air cure", "mask". */
export function actText(say: Say, act: PlannedAct): string {
  const { day } = say
  if (act.kind === 'coat') {
    const { n = 1, of = 1 } = act.coat ?? {}
    return day.coat(stageName(say, act.stage), n, of)
  }
  if (act.kind === 'cure') return day.acts[act.mode ?? 'air']
  if (act.kind === 'abrade') return day.acts.abrade
  return day.works[act.work ?? ''] ?? stageName(say, act.stage)
}

/** What is needed for it: a fresh cup, a clean gun, how much. */
export function withText(say: Say, act: PlannedAct): string {
  const { format, day, state } = say
  return [
    act.isRunning ? day.running : '',
    act.isFreshCup ? day.mix(format.time(act.setUpFromMs ?? act.fromMs)) : '',
    act.volumeMl === undefined ? '' : format.volume(act.volumeMl),
    act.gun ? namesIn(state).gun(act.gun) : '',
    act.isGunChanged ? day.clean : '',
  ]
    .filter((text) => text !== '')
    .join(' · ')
}

export function becauseText(say: Say, { next }: Forecast, now: number): string {
  if (!next) return ''
  const { day, format } = say
  if (next.because === 'only') return day.because.only
  if (next.because === 'window')
    return day.because.window(format.timeAndDay(next.act.shutsAtMs ?? now, now))
  return day.because.order(next.others.map((id) => panelName(say, id)).join(', '))
}

/** What is done by hand before the next coat. */
export function beforeText(say: Say, { next, acts }: Forecast): string {
  if (!next) return ''
  const before = acts.filter(
    ({ kind, fromMs }) => (kind === 'hand' || kind === 'abrade') && fromMs < next.act.fromMs,
  )
  const named = before.map((act) => `${panelName(say, act.panel)}, ${actText(say, act)}`)
  return named.length === 0 ? '' : say.day.before(named.join('; '))
}

export function decidesText(say: Say, { decides }: JobForecast): string {
  if (!decides) return ''
  const { day } = say
  const { panel, stage, kind, wait, ms, isWait } = decides
  const named = kind === 'abrade' ? day.acts.abrade : stageName(say, stage)
  const what = isWait ? day.waitOf(named, day.waitsFor[wait]) : named
  return day.decides(`${panelName(say, panel)}, ${what}`, shortLength(ms))
}

/** Why a panel cannot be planned, and what would make it possible. */
export function cannotText(say: Say, cannot: CannotBe): string {
  const { day, format, state } = say
  const { why } = day
  const zoneIn = (zone: string) => namesIn(state).zone(zone)
  const minutes = (min: number) => shortLength(min * 60_000)
  switch (cannot.code) {
    case 'noPainter':
    case 'neverCures':
      return why[cannot.code]
    case 'colourOff': {
      const { card, value, limit } = cannot
      const figure = (one: number) => format.number(one, 1)
      return value === null
        ? why.noCard({ colour: card })
        : why.colourOff({ card, value: figure(value), limit: figure(limit) })
    }
    case 'airOutside': {
      const { airC, rh, minC, maxC, maxRh } = cannot
      const ends = [minC, maxC].map((c) => (c === null ? '…' : format.temperature(c)))
      const limits = [
        minC === null && maxC === null ? '' : ends.join(' – '),
        maxRh === null ? '' : `≤ ${format.humidity(maxRh)}`,
      ]
      return why.airOutside({
        sheet: sheetName(say, cannot.sheet),
        zone: zoneIn(cannot.zone),
        air: `${format.temperature(airC)}, ${format.humidity(rh)}`,
        limits: limits.filter((text) => text !== '').join(', '),
      })
    }
    case 'dewPoint':
      return why.dewPoint({
        zone: zoneIn(cannot.zone),
        margin: format.degrees(cannot.marginC),
        least: format.degrees(cannot.leastC),
      })
    case 'neverFlashes':
    case 'tooColdToCure':
      return why[cannot.code]({ sheet: sheetName(say, cannot.sheet), zone: zoneIn(cannot.zone) })
    case 'windowShort':
      return why.windowShort({
        sheet: sheetName(say, cannot.sheet),
        window: minutes(cannot.windowMin),
        needs: minutes(cannot.needsMin),
      })
    case 'cupShort':
      return why.cupShort({
        sheet: sheetName(say, cannot.sheet),
        lasts: minutes(cannot.lastsMin),
        needs: minutes(cannot.needsMin),
      })
    case 'windowShut':
    case 'noCure':
    case 'heatFlashUnknown':
      return why[cannot.code]({ sheet: sheetName(say, cannot.sheet) })
    case 'tooFar':
      return why.tooFar(cannot)
  }
}

/** What the plan takes for granted: people, hours, air. */
export function takenTexts(say: Say, { means, air }: Forecast): string[] {
  const { day, format, state } = say
  return [
    day.painters(means.painters),
    ...(means.preppers > 0 ? [day.preppers(means.preppers)] : []),
    ...air.map(({ zone, airC, rh, how }) => {
      const name = namesIn(state).zone(zone)
      if (how === 'range' || how === 'unknown') return day.air[how](name)
      return day.air[how](name, `${format.temperature(airC ?? 0)}, ${format.humidity(rh ?? 0)}`)
    }),
    ...(means.hasHours ? [] : [day.noHours]),
  ]
}

/** The name of a learned figure, from its key. */
export function figureText(say: Say, key: string): string {
  const { day, words, state } = say
  const [kind = '', of = '', gun = ''] = key.split(':')
  const stages: Readonly<Record<string, string>> = words.stage
  if (kind === 'spray') return day.figure.spray(stages[of] ?? of)
  if (kind === 'volume') return day.figure.volume(stages[of] ?? of, namesIn(state).gun(gun) || '…')
  if (kind === 'matte') return day.figure.matte(sheetName(say, of))
  return day.figure.hand(day.works[of] ?? stages[of] ?? of)
}
