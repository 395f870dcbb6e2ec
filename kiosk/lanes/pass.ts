import type { CommandInput } from '../../machines/commands.ts'
import { dueStep, lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { DROP_OVER } from '../../machines/sheet/between.ts'
import { dropOverAt, sheetAt } from '../../machines/sheet/fold.ts'
import type { Stage } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { actsIn } from '../words/acts.ts'
import type { Words } from '../words/en.ts'
import { type Act, type ActOf, type ActType, type ActWords, actsOf } from './acts.ts'
import { comingOf } from './coming.ts'
import { filmActs } from './filmActs.ts'
import type { Lane } from './lanes.ts'

/**
 * What one touch does to several lanes at once: what each of them offers, and in the same way. Pure.
 */

/** `datas`: of one command for all panels, or of one for each. */
export type PassAct = ActWords & {
  readonly type: ActType
  readonly datas: readonly Act['data'][]
}

export type StartAct = PassAct & { readonly datas: readonly CommandInput<'StartCoat'>[] }

const isStart = (act: PassAct): act is StartAct => act.type === 'StartCoat'

/** What the starts among some acts would send. */
export const startsIn = (acts: readonly PassAct[]): readonly CommandInput<'StartCoat'>[] =>
  acts.filter(isStart).flatMap((act): readonly CommandInput<'StartCoat'>[] => act.datas)

/** A start without the panels that it was refused for; null where none of them, or all of them, were. */
export function startOfOthers(
  acts: readonly PassAct[],
  refused: readonly string[],
): CommandInput<'StartCoat'> | null {
  const data = startsIn(acts)[0]
  const panels = data?.panels.filter((panel) => !refused.includes(panel)) ?? []
  return data && panels.length > 0 && panels.length < data.panels.length
    ? { ...data, panels }
    : null
}

/**
 * Starts what these lanes wait for: the step that is due, or the one before it where a shut window wants that again.
 * Any other "one more" names the step before as well.
 */
export const startsNext =
  (lanes: readonly Lane[]) =>
  (act: PassAct): act is StartAct =>
    isStart(act) &&
    act.datas.every((data) => 'step' in data === lanes.every(({ waits }) => waits.for === 'recoat'))

const COAT_TO_COME: readonly string[] = ['coat', 'recoat', 'flash', 'look', 'abrade', 'noFlash']

/**
 * Whether a cup has still to be mixed for the chosen lanes: all wait for a coat of one product in
 * one color, and none of the existing cups would do. Lanes of two products share no cup.
 */
export function wantsCup(lanes: readonly Lane[], acts: readonly PassAct[]): boolean {
  const products = new Set(
    lanes
      .map(comingOf)
      .map(({ job, sheet, colour }) => JSON.stringify([sheet, colour, colour && job])),
  )
  const isToCome = lanes.every(({ waits }) => COAT_TO_COME.includes(waits.for))
  // A step that nothing can be mixed for wants its product chosen, not a cup.
  const hasWay = lanes.every(({ noWay }) => noWay?.isDue !== true)
  return products.size === 1 && isToCome && hasWay && !acts.some(startsNext(lanes))
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

/** The end of a pass of which the order is confirmed with the same touch: each panel has its own end. */
const inOrder = (finish: PassAct, words: Words): PassAct => ({
  ...finish,
  key: 'finish-ordered',
  small: words.act.inOrder,
  isMain: false,
  datas: finish.datas.map((data) => ({ ...data, ordered: true })),
})

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
    if (!same.every((a) => a !== undefined)) return []
    const one = joined([act, ...same], panels)
    return one.key === 'finish' && panels.length > 1 ? [one, inOrder(one, words)] : [one]
  })
}

/** What else a touch on a lane offers, beside what is expected. */

const MINUTE_MS = 60_000
/** "Finished n minutes ago", up to the longest time that needs no reason. */
const AGO_MIN: readonly number[] = [1, 2, 3, 5, 10]
const KINDS = ['light', 'drop', 'blend', 'heavy'] as const
/** The stages of which a drop coat is usual: its key stands among the others. */
const DROPPED: readonly Stage[] = ['base', 'midcoat', 'single-stage']
const RESULTS = ['good', 'nibsOut', 'run', 'dry', 'mottle', 'fisheye', 'notCovered'] as const

/**
 * All that may be done with a lane, the expected first.
 * @param now kiosk time, UTC ms
 */
export function allActsOf(state: State, lane: Lane, words: Words, now: number): Act[] {
  const panel = contextOf(state, 'panel', lane.panel)
  if (!panel) return []
  const acts = actsOf(state, lane, words, now)
  // Those of the step that is due: "one more" names the step before it.
  const starts = acts
    .filter((act) => act.type === 'StartCoat')
    .filter(({ data }) => data.step === undefined)
  // A sheet without figures for it has none that a heavy coat would change.
  const hasHeavy = sheetAt(state, lane.sheet ?? undefined, now)?.sheet.heavyCoat !== undefined
  const drops = dropActs(state, panel, acts, words, now)
  const canLook = lane.waits.for !== 'spraying' && lane.waits.for !== 'cure'
  return [
    ...acts,
    ...agoActs(lane, words, now),
    ...aloneActs(starts, words),
    ...kindActs(starts, words, [
      ...(drops.length > 0 ? ['drop'] : []),
      ...(hasHeavy ? [] : ['heavy']),
    ]),
    ...drops,
    ...(canLook ? inspectActs(panel, lane, words) : []),
    ...(canLook ? filmActs(state, panel, lane, words) : []),
  ]
}

/** The coat was over before anybody came to press: one touch each, never from before its start. */
function agoActs(lane: Lane, words: Words, now: number): Act[] {
  const { waits } = lane
  if (waits.for !== 'spraying') return []
  return AGO_MIN.filter((min) => now - min * MINUTE_MS > waits.since).map((min) => ({
    key: `ago-${min}`,
    label: actsIn(words).ago(min),
    type: 'FinishCoat',
    data: { panels: [lane.panel] },
    agoMin: min,
    group: 'ago',
  }))
}

/** Nobody pressed start: the finish alone tells the coat, from the cup that was meant. */
const aloneActs = (starts: readonly ActOf<'StartCoat'>[], words: Words): Act[] =>
  starts.slice(0, 1).map(({ data }) => ({
    key: 'alone',
    label: actsIn(words).alone,
    small: actsIn(words).aloneSmall(data.cup.slice(0, 4)),
    type: 'FinishCoat',
    data: { panels: data.panels, cup: data.cup },
  }))

/** Other kinds of coat from the first cup. */
const kindActs = (
  starts: readonly ActOf<'StartCoat'>[],
  words: Words,
  without: readonly string[],
): Act[] =>
  starts.slice(0, 1).flatMap((start) =>
    KINDS.filter((kind) => !without.includes(kind)).map(
      (kind): Act => ({
        ...start,
        key: `kind-${kind}`,
        label: actsIn(words).kinds[kind],
        data: { ...start.data, kind },
        isMain: false,
        group: 'more',
      }),
    ),
  )

/**
 * A drop coat over what is on, of the step that is due or of the one just finished. Where neither sheet
 * nor shop says over what, there is a key for each: the touch says it for this sheet from then on.
 */
function dropActs(
  state: State,
  panel: PanelContext,
  acts: readonly Act[],
  words: Words,
  now: number,
): Act[] {
  const last = lastCoat(panel)
  const start = acts.find(
    (act): act is ActOf<'StartCoat'> =>
      act.type === 'StartCoat' && (act.data.step ?? dueStep(panel)) === last?.step,
  )
  const sheet = last?.opens?.sheet
  if (!last || !start || sheet === undefined) return []
  const drop = (key: string, small: string | undefined): ActOf<'StartCoat'> => ({
    ...start,
    key,
    label: actsIn(words).kinds.drop,
    ...(small === undefined ? {} : { small }),
    data: { ...start.data, kind: 'drop' },
    isMain: false,
    ...(last.opens && DROPPED.includes(last.opens.stage) ? {} : { group: 'more' }),
  })
  const isSaid = last.opens?.betweenBy?.drop ?? dropOverAt(state, sheet, now)
  if (isSaid !== undefined) return [drop('kind-drop', start.small)]
  return DROP_OVER.map((dropOver) => ({
    ...drop(`kind-drop-${dropOver}`, actsIn(words).dropOver[dropOver]),
    figure: { sheet, dropOver },
  }))
}

/** What was seen when the last coat was looked over. */
const inspectActs = (panel: PanelContext, lane: Lane, words: Words): Act[] =>
  lastCoat(panel)
    ? RESULTS.map((result) => ({
        key: `see-${result}`,
        label: actsIn(words).results[result],
        type: 'InspectCoat',
        data: { panel: lane.panel, result },
        group: 'inspect',
      }))
    : []
