import type { Json } from '../../machines/envelope.ts'
import type { ChartedKind } from '../../machines/job/steps.ts'
import { type PanelState, sprayPhase, stageIn } from '../../machines/panel/where.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { hashOf } from '../ui/route.ts'
import type { Format } from '../units/format.ts'
import type { PanelStateName, Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'

/** What the pages of a job call things, people, stages, states and air. Pure. */

export type Names = {
  readonly gun: (id: string) => string
  readonly zone: (id: string) => string
  readonly person: (id: string) => string
  readonly job: (id: string) => string
}

/** An id that was never given a name is its own: zones and guns may be used before they are saved. */
export const namesIn = (state: State): Names => ({
  gun: (id) => contextOf(state, 'gun', id)?.spec?.name ?? id,
  zone: (id) => contextOf(state, 'zone', id)?.spec?.name ?? id,
  person: (id) => contextOf(state, 'person', id)?.name || id,
  job: (id) => contextOf(state, 'job', id)?.title || id,
})

type Say = { readonly words: Words; readonly format: Format }

export const isRecord = (value: Json | undefined): value is { readonly [key: string]: Json } =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** The air that was found, or what a sheet allows of it: "12.0 °C 50 %", "from 15.0 °C up to 85 %". */
export function airText(value: { readonly [key: string]: Json }, { words, format }: Say): string {
  const { airC, rh, minC, maxC, maxRh } = value
  const history = historyIn(words)
  return [
    typeof airC === 'number' ? format.temperature(airC) : '',
    typeof rh === 'number' ? format.humidity(rh) : '',
    typeof minC === 'number' ? history.from(format.temperature(minC)) : '',
    typeof maxC === 'number' ? history.upTo(format.temperature(maxC)) : '',
    typeof maxRh === 'number' ? history.upTo(format.humidity(maxRh)) : '',
  ]
    .filter((text) => text !== '')
    .join(' ')
}

/** "step 2, base," and "base with its-sheet" are how the rules name one step; else a list. */
const STEP = /^(?:step \d+, )?(?<stage>[a-z-]+)(?:,| with (?<sheet>\S+))?$/

/**
 * Stages and ways of curing, as the rules name them, in the shop's language. Pure.
 * @returns null for what is neither
 */
export function stageNames(list: Json, words: Words): string | null {
  if (typeof list !== 'string') return null
  const known: Readonly<Record<string, string>> = { ...words.stage, ...words.jobs.cures }
  const step = STEP.exec(list)?.groups
  if (step) {
    const name = known[step.stage ?? '']
    return name === undefined ? null : [name, step.sheet].filter(Boolean).join(' ')
  }
  const names = list.split(', ').map((one) => known[one])
  return names.every((name) => name !== undefined) ? names.join(', ') : null
}

/** The state of a panel's walk in words: "clear, between coats". */
export function panelStateText(where: PanelState, { stage: stages, states }: Words): string {
  const phase = sprayPhase(where)
  const stage = stageIn(where)
  if (phase === null || stage === null) return states.panel[where as PanelStateName]
  return `${stages[stage]}, ${states.panel[phase]}`
}

/** The state of a job, panel or cup in words, from the path that its chart gives it. */
export function stateText(
  { kind, state }: { readonly kind: ChartedKind; readonly state: string },
  words: Words,
): string {
  if (kind === 'panel') return panelStateText(state as PanelState, words)
  const names: Readonly<Record<string, string>> = words.states[kind]
  return names[state] ?? state
}

/** The pages below Jobs. Ids are upper case, so no page's word can be one. */
export const NEW_JOB = 'new'
export const CLOSE_DAY = 'close-day'
export const DAY_PLAN = 'day'
export const HISTORY = 'history'
export const PANELS = 'panels'
export const PANEL = 'panel'
export const COLOUR = 'colour'

export const jobsPath = (...rest: readonly string[]): string => hashOf('jobs', ...rest)
