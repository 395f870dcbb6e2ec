import { moversOn } from '../../machines/clock/line.ts'
import { climateOf } from '../../machines/panel/climate.ts'
import { coatsOn, dueStep, lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { prepOver, sheetAt } from '../../machines/sheet/fold.ts'
import { PADS } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { actsIn } from '../words/acts.ts'
import type { Words } from '../words/en.ts'
import type { Act } from './actTypes.ts'
import { handActs } from './handActs.ts'
import { cureActs, heatActs } from './heatActs.ts'
import type { Lane } from './lanes.ts'
import { fittingCups, oneMoreActs, startActs } from './startActs.ts'

export type { Act, ActOf, ActType, ActWords } from './actTypes.ts'

const GRITS: readonly number[] = [500, 800, 1000]

function coverActs(lane: Lane, panel: PanelContext, words: Words): Act[] {
  const step = panel.route[dueStep(panel)]
  const on = coatsOn(panel, dueStep(panel))
  if (!step?.coats || on === 0 || on < step.coats.least) return []
  return [
    { key: 'cover', label: words.act.covered, type: 'ReachCover', data: { panel: lane.panel } },
  ]
}

/** What the product to come asks for over what is on. */
const prepUnder = (state: State, lane: Lane, panel: PanelContext, now: number) =>
  prepOver(state, lane.sheet ?? undefined, lastCoat(panel)?.opens?.stage ?? 'existing', now)

/** The grits that the product to come asks for over what is on; of the usual ones where it does. */
function gritsFor(state: State, lane: Lane, panel: PanelContext, now: number): readonly number[] {
  const sheet = sheetAt(state, lane.sheet ?? undefined, now)?.sheet
  const prep = prepUnder(state, lane, panel, now)
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
    group: 'sand',
    mayOverride: true,
  })
  const isMidcoat = panel.route[last.step]?.stage === 'midcoat'
  return [
    one('denib', actsIn(words).denibbed),
    ...(isMidcoat ? [one('denib-ground', actsIn(words).denibbedToGround, { toGround: true })] : []),
  ]
}

/** Pads that the product to come asks for; the usual ones are among the others. */
function padActs(state: State, lane: Lane, panel: PanelContext, words: Words, now: number): Act[] {
  const asked = prepUnder(state, lane, panel, now)?.pads
  return (asked ?? PADS).map((pad) => ({
    key: `abrade-${pad}`,
    label: actsIn(words).abradedBy(words.pads[pad]),
    type: 'AbradePanel',
    data: { panel: lane.panel, pad },
    ...(asked ? {} : { group: 'more' }),
  }))
}

/** The face that the edges' overspray drifted onto: one touch. */
const oversprayActs = ({ panel, waits }: Lane, words: Words): Act[] =>
  waits.for === 'abrade' && waits.why === 'overspray'
    ? [
        {
          key: 'overspray',
          label: actsIn(words).oversprayAbraded,
          type: 'AbradePanel',
          data: { panel, overspray: true },
          isMain: true,
        },
      ]
    : []

/** Air movers of its zone, where the film on a panel is waterborne; and matte where these are on. */
function moverActs(
  state: State,
  lane: Lane,
  panel: PanelContext,
  words: Words,
  now: number,
): Act[] {
  const [flash] = lastCoat(panel)?.opens?.flashBeforeNext ?? []
  if (flash?.waterborneRhRef === undefined) return []
  const isOn = moversOn(climateOf(state, panel), now)
  const turn: Act = {
    key: 'movers',
    label: isOn ? words.act.movers.off : words.act.movers.on,
    type: 'SetAirMovers',
    data: { zone: lane.zone, on: !isOn },
    group: 'more',
  }
  const isLooked = lane.waits.for === 'look'
  const isByEye = isOn && flash.forcedMin === undefined && !isLooked
  return [turn, ...(isByEye ? lookActs(lane, words).map((act) => ({ ...act, isMain: false })) : [])]
}

/** The whole panel by paper. Where nobody said which is right under this product, the touch says it once. */
function abradeActs(
  state: State,
  lane: Lane,
  panel: PanelContext,
  words: Words,
  now: number,
): Act[] {
  const under = lastCoat(panel)
  const sheet = panel.route[dueStep(panel)]?.sheet
  const over = under?.step === dueStep(panel) ? undefined : under?.opens?.stage
  const isAsked = over && sheet !== undefined && !prepUnder(state, lane, panel, now)
  return gritsFor(state, lane, panel, now).map((grit, i) => ({
    key: `abrade-${grit}`,
    label: words.act.abraded(grit),
    type: 'AbradePanel',
    data: { panel: lane.panel, grit },
    isMain: i === 0,
    ...(isAsked
      ? { small: actsIn(words).orFiner, figure: { sheet, prep: { over, gritMin: grit } } }
      : {}),
  }))
}

/** Sanding over what is on, while the next coat is waited for: the usual paper as a key, the others among the others. */
function sandActs(...about: Parameters<typeof abradeActs>): Act[] {
  const [, lane, panel] = about
  if (!lastCoat(panel) || lane.phase === 'abraded') return []
  return abradeActs(...about).map(
    (act, i): Act => ({ ...act, isMain: false, group: i === 0 ? 'sand' : 'more' }),
  )
}

/** How far beyond its spot a blend was taken: cm, as a hand tells them apart. */
const REACHES_CM: readonly number[] = [10, 20, 30, 50]

const reachActs = (panel: PanelContext, words: Words, data: { panels: string[] }): Act[] =>
  panel.open?.kind === 'blend'
    ? REACHES_CM.map((reachCm) => ({
        key: `reach-${reachCm}`,
        label: words.act.finish,
        small: words.act.reach(reachCm),
        type: 'FinishCoat',
        data: { ...data, kind: 'blend', reachCm },
        group: 'more',
      }))
    : []

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
    ...moverActs(state, lane, panel, words, now),
  ]
  switch (lane.waits.for) {
    case 'spraying': {
      const data = { panels: [lane.panel] }
      const others = fittingCups(state, lane, now)
        .filter(({ id }) => !panel.open?.cups.includes(id))
        .map(
          ({ id }): Act => ({
            key: `on-${id}`,
            label: actsIn(words).anotherCup(id.slice(0, 4)),
            type: 'ContinueCoat',
            data: { ...data, cup: id },
            mayOverride: true,
          }),
        )
      return [
        { key: 'finish', label: words.act.finish, type: 'FinishCoat', data, isMain: true },
        ...others,
        ...reachActs(panel, words, data),
        {
          key: 'break-off',
          label: words.act.brokenOff,
          type: 'BreakOffCoat',
          data,
          group: 'more',
        },
      ]
    }
    case 'look':
      return [
        ...lookActs(lane, words),
        ...coats().map((act) => ({ ...act, isMain: false })),
        ...sandActs(state, lane, panel, words, now),
      ]
    case 'abrade': {
      const abrading = [
        ...oversprayActs(lane, words),
        ...abradeActs(state, lane, panel, words, now),
        ...padActs(state, lane, panel, words, now),
      ]
      // No abrading lets a product over one that its sheet forbids: the step is changed or skipped.
      const isNever = lane.waits.why === 'never'
      // Abrading is refused until the film is ready: no paper is the expected key.
      const isExpected = !isNever && lane.waits.until === undefined
      return [
        ...abrading.map(
          (act): Act => ({
            ...act,
            ...(isExpected ? {} : { isMain: false }),
            ...(isNever ? { group: 'more' } : {}),
          }),
        ),
        ...coats().map((act) => ({ ...act, isMain: false })),
      ]
    }
    case 'recoat': {
      const isAgain = ({ key }: Act) => key.startsWith('more-')
      const aside = (act: Act): Act => ({ ...act, isMain: false })
      const abrading = lane.waits.isAbraded ? [] : abradeActs(state, lane, panel, words, now)
      return [
        ...coats()
          .filter(isAgain)
          .map((act): Act => ({ ...act, isMain: true })),
        ...coats()
          .filter((act) => !isAgain(act))
          .map(aside),
        ...abrading.map((act): Act => ({ ...aside(act), group: 'more' })),
      ]
    }
    case 'flash':
    case 'noFlash':
    case 'coat':
      return [...coats(), ...sandActs(state, lane, panel, words, now)]
    case 'hand':
      return [...handActs(lane, panel, words), ...oneMoreActs(state, lane, panel, words, now)]
    case 'heat':
    case 'heatFlash':
    case 'heatAsk':
    case 'heatNoFlash':
    case 'noCure':
      return [
        ...heatActs(state, lane, panel, words),
        ...oneMoreActs(state, lane, panel, words, now),
      ]
    case 'cure':
    case 'cureEnd':
      return cureActs(state, lane, panel, words)
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
