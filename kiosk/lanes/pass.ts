import type { CommandInput } from '../../machines/commands.ts'
import { byOccurrence, type Draft } from '../../machines/envelope.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { Words } from '../words/en.ts'
import type { Act, ActType, ActWords } from './acts.ts'
import type { Lane } from './lanes.ts'
import { allActsOf } from './moreActs.ts'

/**
 * What one touch does to several lanes at once: what each of them offers, and in the same way. Pure.
 */

/** `datas`: of one command for all panels, or of one for each. */
export type PassAct = ActWords & {
  readonly type: ActType
  readonly datas: readonly Act['data'][]
}

export type StartAct = PassAct & { readonly datas: readonly CommandInput<'StartCoat'>[] }

/** Starts the step that is due: "one more" names the step before it, which may be sprayed at once. */
export const startsDueStep = (act: PassAct): act is StartAct =>
  act.type === 'StartCoat' && act.datas.every((data) => !('step' in data))

const COAT_TO_COME: readonly string[] = ['coat', 'flash', 'look', 'abrade', 'noFlash']

/**
 * Whether a cup has still to be mixed for the chosen lanes: all wait for a coat of one product in
 * one color, and none of the existing cups would do. Lanes of two products share no cup.
 */
export function wantsCup(lanes: readonly Lane[], acts: readonly PassAct[]): boolean {
  const products = new Set(lanes.map(({ sheet, colour }) => JSON.stringify([sheet, colour])))
  const isToCome = lanes.every(({ waits }) => COAT_TO_COME.includes(waits.for))
  return products.size === 1 && isToCome && !acts.some(startsDueStep)
}

/** What must be the same on every lane: all but the panel itself. */
function sameness({ type, data, agoMin }: Act): string {
  return JSON.stringify([type, agoMin ?? null, { ...data, panel: null, panels: null }])
}

function joined(acts: readonly Act[], panels: readonly string[]): PassAct {
  const [first] = acts as [Act, ...Act[]]
  const { data, ...act } = first
  const labels = [...new Set(acts.map((a) => a.label))]
  const datas = 'panels' in data ? [{ ...data, panels }] : acts.map((a) => a.data)
  return { ...act, label: labels.join(' / '), isMain: acts.every((a) => a.isMain === true), datas }
}

/** What started the coat that is being sprayed on a panel; undefined where none is. */
function startOf(state: State, panel: string): Draft | undefined {
  const open = contextOf(state, 'panel', panel)?.open
  if (!open) return undefined
  const isStart = (e: Draft) => e.type === 'CoatStarted' && e.at === open.startedAt
  return state.things.panel[panel]?.entries.findLast(isStart)
}

/**
 * The panels that are sprayed in one pass with this one and not finished yet, itself included, in
 * the order in which they were started: one touch finishes them all.
 */
export function sprayedWith(state: State, panel: string): string[] {
  const command = startOf(state, panel)?.command
  return Object.keys(state.things.panel)
    .flatMap((id) => {
      const start = startOf(state, id)
      return start !== undefined && start.command === command ? [{ id, start }] : []
    })
    .sort((a, b) => byOccurrence(a.start, b.start))
    .map(({ id }) => id)
}

/**
 * What may be done with the chosen lanes, the expected first.
 * @param lanes in the order in which they were chosen: the order in which the gun goes round
 */
export function passActs(
  state: State,
  lanes: readonly Lane[],
  words: Words,
  now: number,
): PassAct[] {
  const [first, ...others] = lanes.map((lane) => allActsOf(state, lane, words, now))
  const panels = lanes.map((lane) => lane.panel)
  return (first ?? []).flatMap((act) => {
    const same = others.map((acts) => acts.find((a) => sameness(a) === sameness(act)))
    return same.every((a) => a !== undefined) ? [joined([act, ...same], panels)] : []
  })
}
