import { lagOf } from '../../machines/climate/neighbors.ts'
import { lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { bakePoint } from '../../machines/panel/cureClock.ts'
import { unaskedIn } from '../../machines/panel/inHeat.ts'
import { lastSetC } from '../../machines/panel/roomHeat.ts'
import { type BakeFigure, curesOf } from '../../machines/sheet/intervals.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { heatText } from '../units/heat.ts'
import { actsIn } from '../words/acts.ts'
import type { Words } from '../words/en.ts'
import type { Act } from './actTypes.ts'
import type { Lane } from './lanes.ts'

/** What may be done with a lane that is to be heated, or that cures. */

/** The temperatures to set that reach a product's bake points, and the one that was set last, which is offered first. */
function settingsFor(state: State, lane: Place, bakes: readonly BakeFigure[]): readonly number[] {
  const lagC = lagOf(state, lane.zone)
  const reach = bakes.map(({ tempC, basis }) => tempC + (basis === 'part' ? lagC : 0))
  const least = Math.min(...reach)
  const last = lastSetC(state)
  const usual = last !== null && last >= least ? [last] : []
  return [...new Set([...usual, ...reach.toSorted((a, b) => a - b)])]
}

const PERHAPS_MOST = 3

/** A bake, by what it is set to. Nobody has to say that: then "at temperature" is taken at the coolest point. */
function bakeActs(
  state: State,
  lane: Place,
  bakes: readonly BakeFigure[],
  words: Words,
): Omit<Act & { type: 'StartCure' }, 'isMain'>[] {
  const { units } = settingsOf(state)
  const of = { type: 'StartCure', mayOverride: true } as const
  const data = { panels: [lane.panel], mode: 'bake' } as const
  const set = settingsFor(state, lane, bakes).slice(0, PERHAPS_MOST)
  return [
    ...set.map((setC, i) => ({
      ...of,
      key: i === 0 ? 'bake' : `bake-${setC}`,
      label: words.act.bakeAt(heatText(setC, units)),
      data: { ...data, setC },
    })),
    { ...of, key: 'bake-unset', label: actsIn(words).bakeUnset, data, group: 'more' as const },
  ]
}

/** How far the lamp stands from the part, by the sheet of what is on. */
function lampAway(state: State, panel: PanelContext): { small?: string } {
  const sheet = contextOf(state, 'sheet', lastCoat(panel)?.opens?.sheet)?.versions.at(-1)?.sheet
  const distanceCm = sheet?.cure.infrared?.distanceCm
  return distanceCm === undefined ? {} : { small: `${distanceCm} cm` }
}

/** Of a lane: which panel it is, where it is, and whether something is asked first. */
type Place = Pick<Lane, 'panel' | 'zone' | 'waits'>

export function heatActs(
  state: State,
  lane: Place,
  panel: PanelContext,
  words: Words,
): (Act & { type: 'StartCure' })[] {
  const cure = lastCoat(panel)?.opens?.cure
  if (!cure) return []
  const bakes = curesOf(cure).flatMap(({ bake }) => bake)
  const plain = (mode: 'air' | 'infrared') => ({
    key: mode,
    label: words.act[mode],
    type: 'StartCure' as const,
    data: { panels: [lane.panel], mode },
    mayOverride: true,
  })
  const acts = [
    ...(bakes.length > 0 ? bakeActs(state, lane, bakes, words) : []),
    ...(cure.infrared ? [{ ...plain('infrared'), ...lampAway(state, panel) }] : []),
    ...(cure.air ? [plain('air')] : []),
  ]
  // Two figures are asked for first: when the film may be heated and, before a bake, the limits of the vehicles.
  const isUnasked = bakes.length > 0 && unaskedIn(state, lane.zone).length > 0
  const isAsked = lane.waits.for === 'heatAsk' || isUnasked
  return acts.map((act, i) => ({ ...act, isMain: i === 0 && !isAsked }))
}

/** "PART AT 60 °C: 30 MIN": what the touch asserts. */
export function atTemperatureText(state: State, panel: PanelContext, words: Words): string {
  const point = bakePoint(panel)
  if (!point) return words.act.atTemperature
  const { units } = settingsOf(state)
  return actsIn(words).partAt(point.basis, heatText(point.tempC, units), point.minutes)
}

export function cureActs(state: State, lane: Lane, panel: PanelContext, words: Words): Act[] {
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
    label: atTemperatureText(state, panel, words),
    type: 'ReadPart',
    data: { panel: lane.panel },
    isMain: true,
  }
  return [at, end]
}
