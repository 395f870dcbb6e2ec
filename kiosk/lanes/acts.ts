import { canNow } from '../../machines/can.ts'
import type { CommandInput } from '../../machines/commands.ts'
import { fitsColour } from '../../machines/cup/colours.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { coatsOn, dueStep, lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { gateOf, shutAt } from '../../machines/panel/gate.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { Words } from '../words/en.ts'
import { type CupView, cupsOf } from './cups.ts'
import type { Lane } from './lanes.ts'

/** The commands that a lane offers. */
export type ActType =
  | 'StartCoat'
  | 'ContinueCoat'
  | 'FinishCoat'
  | 'InspectCoat'
  | 'ReachCover'
  | 'AbradePanel'
  | 'DenibPanel'
  | 'DoPrepStep'
  | 'StartCure'
  | 'ReadPart'
  | 'EndCure'
  | 'PassPanel'

/** Something that one touch does: its words, and the command that it sends. */
export type Act = ActOf<ActType>
export type ActOf<T extends ActType> = ActWords &
  {
    [One in T]: { readonly type: One; readonly data: CommandInput<One> }
  }[T]

export type ActWords = {
  readonly key: string
  readonly label: string
  readonly small?: string
  /** What is expected next: drawn first and largest. */
  readonly isMain?: boolean
  /** Whether an override may be asked for when it is refused. */
  readonly mayOverride?: boolean
  /** What the shop says with the same touch, once for the sheet. */
  readonly figure?: CommandInput<'SetShopFigure'>
  /** How many minutes ago it happened. */
  readonly agoMin?: number
  /** Where it is shown: among the main buttons, or folded away. */
  readonly group?: 'ago' | 'more' | 'inspect'
}

const GRITS: readonly number[] = [500, 800, 1000]

/** The gun that holds a cup's material: a coat from that cup is sprayed with it. */
function gunOf(state: State, cup: string): { gun?: string } {
  const found = Object.entries(state.things.gun).find(
    ([, thing]) => thing.context.loads.at(-1)?.cup === cup,
  )
  return found ? { gun: found[0] } : {}
}

type Wanted = {
  readonly job: string
  readonly sheet: string | null
  readonly colour: string | null
}

/** Cups that hold what a lane wants, the one that ends first before the others, past ones last. */
function fittingCups(state: State, { job, sheet, colour }: Wanted, now: number) {
  const fits = (cup: CupContext) =>
    cup.sheet === sheet && fitsColour(state, job, colour ?? undefined, cup)
  const all = cupsOf(state, now).filter((view) => fits(view.cup))
  const isOver = (endsAt: number | null) => endsAt !== null && endsAt <= now
  return [...all.filter((v) => !isOver(v.endsAt)), ...all.filter((v) => isOver(v.endsAt))]
}

function startActs(state: State, lane: Lane, words: Words, now: number): ActOf<'StartCoat'>[] {
  const stage = lane.stage === null ? '' : words.stage[lane.stage]
  return fittingCups(state, lane, now).map(({ id }, i) => ({
    key: `start-${id}`,
    label: words.act.start(stage, lane.coatsOn + 1),
    small: words.act.from(id.slice(0, 4)),
    type: 'StartCoat',
    data: { panels: [lane.panel], cup: id, ...gunOf(state, id) },
    isMain: i === 0,
    mayOverride: true,
  }))
}

/**
 * One more coat of the step just finished, while no coat of the next one is on: where the panel's chart
 * takes it and no window is shut. After a cure that is so once the panel is sanded.
 */
function oneMoreActs(
  state: State,
  lane: Lane,
  panel: PanelContext,
  words: Words,
  now: number,
): Act[] {
  const last = lastCoat(panel)
  const step = last && panel.route[last.step]
  if (!last || !step || last.step >= dueStep(panel)) return []
  const gate = gateOf(state, panel, last.step, now)
  if (gate && shutAt(gate, now)) return []
  const isTaken = ({ cup: { sheet, stage } }: CupView) => {
    const data = { sheet, stage, step: last.step }
    return canNow(state, { kind: 'panel', id: lane.panel }, { type: 'CoatStarted', data }, now)
  }
  return fittingCups(
    state,
    { job: lane.job, sheet: step.sheet ?? null, colour: step.colour ?? null },
    now,
  )
    .filter(isTaken)
    .slice(0, 1)
    .map(({ id }) => ({
      key: `more-${id}`,
      label: words.act.oneMore(words.stage[step.stage]),
      small: words.act.from(id.slice(0, 4)),
      type: 'StartCoat',
      data: { panels: [lane.panel], cup: id, step: last.step, ...gunOf(state, id) },
      mayOverride: true,
    }))
}

function coverActs(lane: Lane, panel: PanelContext, words: Words): Act[] {
  const step = panel.route[dueStep(panel)]
  const on = coatsOn(panel, dueStep(panel))
  if (!step?.coats || on === 0 || on < step.coats.least) return []
  return [
    { key: 'cover', label: words.act.covered, type: 'ReachCover', data: { panel: lane.panel } },
  ]
}

function handActs(lane: Lane, panel: PanelContext, words: Words): Act[] {
  const step = dueStep(panel)
  const stage = panel.route[step]?.stage
  const one = (grit?: number): Act => ({
    key: `hand-${grit ?? ''}`,
    label: words.act.done(stage ? words.stage[stage] : ''),
    ...(grit === undefined ? {} : { small: `P${grit}` }),
    type: 'DoPrepStep',
    data: { panel: lane.panel, step, ...(grit === undefined ? {} : { grit }) },
    isMain: grit === undefined || grit === GRITS[0],
  })
  return stage === 'sand' ? GRITS.map((grit) => one(grit)) : [one()]
}

function heatActs(lane: Lane, panel: PanelContext, words: Words): Act[] {
  const cure = lastCoat(panel)?.opens?.cure
  const modes = [
    ...(cure?.bake.length ? (['bake'] as const) : []),
    ...(cure?.infrared ? (['infrared'] as const) : []),
    ...(cure?.air ? (['air'] as const) : []),
  ]
  return modes.map((mode, i) => ({
    key: mode,
    label: words.act[mode],
    type: 'StartCure',
    data: { panels: [lane.panel], mode },
    isMain: i === 0,
    mayOverride: true,
  }))
}

function cureActs(lane: Lane, panel: PanelContext, words: Words): Act[] {
  const end: Act = {
    key: 'end',
    label: words.act.endCure,
    type: 'EndCure',
    data: { panels: [lane.panel] },
    isMain: lane.waits.for === 'cureEnd',
  }
  if (panel.cure?.mode !== 'bake' || lane.waits.for === 'cureEnd') return [end]
  const at: Act = {
    key: 'at',
    label: words.act.atTemperature,
    type: 'ReadPart',
    data: { panel: lane.panel },
    isMain: true,
  }
  return [at, end]
}

/** The grits that the product to come asks for over what is on; of the usual ones where it does. */
function gritsFor(state: State, lane: Lane, panel: PanelContext, now: number): readonly number[] {
  const sheet = sheetAt(state, lane.sheet ?? undefined, now)?.sheet
  const under = lastCoat(panel)?.opens?.stage
  const prep = sheet?.prepFor?.find(({ over }) => over === under)
  const { gritMin, gritMax } = prep ?? {}
  const asked = gritMin ?? gritMax ?? (typeof sheet?.grit === 'number' ? sheet.grit : undefined)
  if (asked === undefined) return GRITS
  const most = prep ? (gritMax ?? Number.POSITIVE_INFINITY) : asked
  const usual = GRITS.filter((grit) => grit >= (gritMin ?? 0) && grit <= most)
  return prep && usual.length > 0 ? usual : [asked]
}

/** A nib taken out: it opens no window. Of a midcoat it is asked how deep. */
function denibActs(lane: Lane, panel: PanelContext, words: Words): Act[] {
  const last = lastCoat(panel)
  if (!last) return []
  const one = (key: string, label: string, more: { toGround?: true } = {}): Act => ({
    key,
    label,
    type: 'DenibPanel',
    data: { panel: lane.panel, ...more },
    group: 'more',
    mayOverride: true,
  })
  const isMidcoat = panel.route[last.step]?.stage === 'midcoat'
  return [
    one('denib', words.act.denibbed),
    ...(isMidcoat ? [one('denib-ground', words.act.denibbedToGround, { toGround: true })] : []),
  ]
}

const abradeActs = (lane: Lane, words: Words, grits: readonly number[]): Act[] =>
  grits.map((grit, i) => ({
    key: `abrade-${grit}`,
    label: words.act.abraded(grit),
    type: 'AbradePanel',
    data: { panel: lane.panel, grit },
    isMain: i === 0,
  }))

const lookActs = (lane: Lane, words: Words): Act[] =>
  (['matt', 'notYet'] as const).map((result) => ({
    key: result,
    label: words.act[result],
    type: 'InspectCoat',
    data: { panel: lane.panel, result },
    isMain: result === 'matt',
  }))

/**
 * What may be done with a lane, the expected first.
 * @param now kiosk time, UTC ms: which cups are over
 */
export function actsOf(state: State, lane: Lane, words: Words, now: number): Act[] {
  const panel = contextOf(state, 'panel', lane.panel)
  if (!panel) return []
  const coats = () => [
    ...startActs(state, lane, words, now),
    ...coverActs(lane, panel, words),
    ...oneMoreActs(state, lane, panel, words, now),
    ...denibActs(lane, panel, words),
  ]
  switch (lane.waits.for) {
    case 'spraying': {
      const data = { panels: [lane.panel] }
      const others = fittingCups(state, lane, now)
        .filter(({ id }) => !panel.open?.cups.includes(id))
        .map(
          ({ id }): Act => ({
            key: `on-${id}`,
            label: words.act.anotherCup(id.slice(0, 4)),
            type: 'ContinueCoat',
            data: { ...data, cup: id },
            mayOverride: true,
          }),
        )
      return [
        { key: 'finish', label: words.act.finish, type: 'FinishCoat', data, isMain: true },
        ...others,
      ]
    }
    case 'look':
      return [...lookActs(lane, words), ...coats().map((act) => ({ ...act, isMain: false }))]
    case 'abrade':
      return [
        ...abradeActs(lane, words, gritsFor(state, lane, panel, now)),
        ...coats().map((act) => ({ ...act, isMain: false })),
      ]
    case 'flash':
    case 'noFlash':
    case 'coat':
      return coats()
    case 'hand':
      return [...handActs(lane, panel, words), ...oneMoreActs(state, lane, panel, words, now)]
    case 'heat':
    case 'heatFlash':
      return [...heatActs(lane, panel, words), ...oneMoreActs(state, lane, panel, words, now)]
    case 'cure':
    case 'cureEnd':
      return cureActs(lane, panel, words)
    case 'pass':
      return [
        {
          key: 'pass',
          label: words.act.pass,
          type: 'PassPanel',
          data: { panel: lane.panel },
          isMain: true,
        },
      ]
  }
}
