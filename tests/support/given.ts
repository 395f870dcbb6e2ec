import type { Said } from '../../machines/contract.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { Draft } from '../../machines/envelope.ts'
import { evict } from '../../machines/evict.ts'
import type { GunContext } from '../../machines/gun/machine.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { routeState } from '../../machines/panel/where.ts'
import type { Refusal } from '../../machines/refusals.ts'
import { contextOf, type State, thingOf } from '../../machines/state.ts'
import { BASE, CLEAR, SEALER } from './sheets.ts'
import { type Answer, MINUTE, minute, Shop, START_MS } from './shop.ts'

/** A shop's past, told shortly: minutes after the start, an invented van, panels and cups by name. */

export const JOB = 'JJJJ2222'
export const DOOR = 'DDDD2222'
export const WING = 'WWWW2222'
export const SILL = 'SSSS2222'
export const BASE_CUP = 'BBBB2222'
export const CLEAR_CUP = 'CCCC2222'
export const SEALER_CUP = 'EEEE2222'

/** One millisecond, as part of a minute: what lies between refused and accepted. */
export const MS = 1 / MINUTE

export const CLEAR_ONLY = [{ stage: 'clear', sheet: 'clear-2k' }] as const
export const BASE_CLEAR = [
  { stage: 'base', sheet: 'base-solvent' },
  { stage: 'clear', sheet: 'clear-2k' },
] as const
export const CLEAR_CURE = [...CLEAR_ONLY, { stage: 'cure' }] as const

/** A shop at minute 0 that has these sheets; the usual three unless told. */
export function shopWith(sheets: readonly object[] = [BASE, CLEAR, SEALER]): Shop {
  const shop = new Shop()
  for (const sheet of sheets) shop.do('SaveSheet', { sheet })
  return shop
}

type PanelWish = {
  job?: string
  panel?: string
  name?: string
  operation?: string
  areaM2?: number
  zone?: string
}

/** Adds a panel with this route to the van's job, which is opened if need be. */
export function addPanel(shop: Shop, route: readonly object[], wish: PanelWish = {}): Shop {
  if (!thingOf(shop.state, { kind: 'job', id: JOB })) {
    shop.do('OpenJob', { job: JOB, title: 'Delivery van, rear corner' })
  }
  shop.do('AddPanel', {
    job: JOB,
    panel: DOOR,
    name: 'Rear door',
    operation: 'repair',
    ...wish,
    route,
  })
  return shop
}

export function mix(shop: Shop, cup: string, sheet: string, more: object = {}): Shop {
  shop.do('MixCup', { cup, sheet, totalMl: 300, ...more })
  return shop
}

/** A van with one panel, and a cup for each of the usual products. */
export function vanWith(
  route: readonly object[],
  sheets: readonly object[] = [BASE, CLEAR, SEALER],
): Shop {
  const shop = addPanel(shopWith(sheets), route)
  const cups: readonly [string, string][] = [
    [BASE_CUP, BASE.sheet],
    [CLEAR_CUP, CLEAR.sheet],
    [SEALER_CUP, SEALER.sheet],
  ]
  const known = sheets.map((sheet) => (sheet as { sheet: string }).sheet)
  for (const [cup, sheet] of cups) if (known.includes(sheet)) mix(shop, cup, sheet)
  return shop
}

/** A coat that starts and finishes at these minutes. */
export function coat(
  shop: Shop,
  cup: string,
  fromMin: number,
  toMin: number,
  more: { panels?: readonly string[]; [key: string]: unknown } = {},
): Shop {
  const panels = more.panels ?? [DOOR]
  shop.at(fromMin).do('StartCoat', { cup, ...more, panels })
  shop.at(toMin).do('FinishCoat', { panels })
  return shop
}

export function air(
  shop: Shop,
  min: number,
  airC: number,
  rh = 0.5,
  more: { zone?: string; surfaceC?: number } = {},
): Shop {
  shop.at(min).do('ReadClimate', { zone: 'booth', airC, rh, ...more })
  return shop
}

/** An answer in one word: "done", a refusal's code, or the field that was wrong. */
export function said(answer: Answer): string {
  if ('drafts' in answer) return 'done'
  return 'refusal' in answer ? answer.refusal.code : answer.error.field
}

/** What a shop answers one millisecond before a moment and exactly at it; its past stays as it was. */
export const around = (shop: Shop, min: number, ask: (shop: Shop) => Answer): [string, string] => [
  said(ask(shop.fork().at(min - MS))),
  said(ask(shop.fork().at(min))),
]

export const startCoat =
  (cup: string, more: object = {}) =>
  (shop: Shop): Answer =>
    shop.send('StartCoat', { panels: [DOOR], cup, ...more })

/** A command that happened at this minute and waited in a kiosk's queue since. */
export const queued = (
  shop: Shop,
  min: number,
  type: string,
  data: object,
  more: { device?: string; seq?: number; id?: string } = {},
): readonly Draft[] => {
  const at = START_MS + Math.round(min * MINUTE)
  return shop.do(type, data, { at, enteredAt: at, ...more })
}

export function refusalOf(answer: Answer): Said<Refusal> {
  if (!('refusal' in answer)) throw new Error(`not refused: ${JSON.stringify(answer)}`)
  return answer.refusal
}

/** The limits that a fact broke, by code. */
export const outsideOf = (draft: Draft | undefined): string[] =>
  (draft?.outside ?? []).map((broken) => broken.code)

export function panelOf(shop: Shop, id = DOOR): PanelContext {
  const panel = contextOf(shop.state, 'panel', id)
  if (!panel) throw new Error(`no panel ${id}`)
  return panel
}

/** The state of a panel's walk, such as "clear.between". */
export const whereIs = (shop: Shop, id = DOOR): string =>
  routeState(thingOf(shop.state, { kind: 'panel', id })?.value)

export function cupOf(shop: Shop, id: string): CupContext {
  const cup = contextOf(shop.state, 'cup', id)
  if (!cup) throw new Error(`no cup ${id}`)
  return cup
}

/** When the pot life of a cup ends, minutes; NaN where it has none. */
export const cupEndMin = (shop: Shop, id: string): number =>
  minuteOf(cupEndsAt(shop.state, cupOf(shop, id)) ?? Number.NaN)

export const gunOf = (shop: Shop, id: string): GunContext | undefined =>
  contextOf(shop.state, 'gun', id)

export const stateOf = (shop: Shop, kind: 'cup' | 'gun' | 'job', id: string): unknown =>
  thingOf(shop.state, { kind, id })?.value

export const minuteOf = (at: number): number => (at - START_MS) / MINUTE

/** The current bells of these kinds, with the minute at which each is due. */
export function bells(shop: Shop, ...kinds: readonly string[]): [string, number][] {
  return deadlines(shop.state)
    .filter((d) => kinds.length === 0 || kinds.includes(d.bell))
    .map((d) => [d.bell, minuteOf(d.dueAt)])
}

/** The minute of the one bell of a kind; undefined when there is none. */
export function dueMin(shop: Shop, kind: string): number | undefined {
  const all = bells(shop, kind)
  if (all.length > 1) throw new Error(`${all.length} bells ${kind}`)
  return all[0]?.[1]
}

/** The key of the one bell of a kind. */
export function keyOf(shop: Shop, kind: string): string {
  const all = deadlines(shop.state).filter((d) => d.bell === kind)
  if (all.length !== 1) throw new Error(`${all.length} bells ${kind}`)
  return all[0]?.key ?? ''
}

/** The state of a shop after an eviction at a minute. */
export const evictedState = (shop: Shop, min: number): State => evict(shop.state, minute(min))

/** Another shop with the same past, after an eviction. */
export function evicted(shop: Shop, min: number): Shop {
  const copy = shop.fork().at(min)
  copy.state = evictedState(copy, min)
  return copy
}

/** The id of the first entry of a type that names this cup, or any. */
export const idOf = (shop: Shop, type: string, cup?: string): string =>
  shop.entries.find((e) => e.type === type && (cup === undefined || e.cup === cup))?.id ?? 'none'
export const voided = (shop: Shop, entry: string, more: object = {}) =>
  shop.send('VoidEntry', { entry, reason: 'Wrong button', ...more })
