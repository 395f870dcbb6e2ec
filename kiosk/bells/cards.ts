import {
  BELLS,
  type BellClass,
  type BellKind,
  ENDS_IN,
  type Reach,
  type SoundName,
} from '../../machines/bell/kinds.ts'
import { type ClockReading, nowFor } from '../device/clock.ts'

/**
 * Several bells at once, as pure functions: which are due, which are one card, which sounds next.
 * Instants are kiosk time, UTC ms.
 */

/** A deadline from machines/deadlines.ts. `thing` is the cup, panel or gun that it belongs to. */
export type Bell = {
  readonly key: string
  readonly kind: BellKind
  readonly dueAt: number
  readonly thing: string
  readonly job?: string
  /** Where the thing is; a gun is nowhere in particular. */
  readonly zone?: string
}

/** Bells of one kind for several parts of one job: one sound, one card with a count. */
export type Card = {
  /** Of the bell that opened it; it stays when that bell is gone. */
  readonly key: string
  readonly kind: BellKind
  readonly dueAt: number
  readonly job?: string
  readonly bells: readonly Bell[]
}

/** A card whose bell rings. */
export type Ringing = {
  readonly key: string
  readonly kind: BellKind
  readonly dueAt: number
  readonly raisedAtMs: number
  readonly wantsTurn: boolean
  /** Still sounds: not acknowledged, snoozed or silenced, and not yet only shown. */
  readonly isAudible: boolean
}

/** What makes bells meaningless: ids of emptied cups, of jobs and panels in a bake. */
export type Facts = {
  readonly emptied: ReadonlySet<string>
  readonly baking: ReadonlySet<string>
}

const TOGETHER_MS = 60_000
const PAUSE_MS = 1_000
export const FLOOD_WITHIN_MS = 600_000
const FLOOD_KINDS = 4
const FLOOD_RAISED = 10

const RANK: Record<BellClass, number> = { high: 0, medium: 1, prompt: 2 }
const CUP: readonly BellKind[] = ['potNear', 'potOver', 'keepUntil']
const WINDOW: readonly BellKind[] = ['windowClosing', 'windowShut']

/** Whether a bell's deadline has come, by the careful end of what the kiosk knows of the time. */
export const isDue = (bell: Pick<Bell, 'kind' | 'dueAt'>, reading: ClockReading): boolean =>
  nowFor(reading, BELLS[bell.kind].side) >= bell.dueAt

/** Of bells that are due, those that no other bell and no fact has made meaningless. */
export function independent(bells: readonly Bell[], facts: Facts): readonly Bell[] {
  const isOver = ({ kind, thing, dueAt }: Bell) =>
    bells.some((b) => b.kind === ENDS_IN[kind] && b.thing === thing && dueAt <= b.dueAt)
  return bells.filter((b) => {
    if (CUP.includes(b.kind) && facts.emptied.has(b.thing)) return false
    const isBaking = facts.baking.has(b.thing) || facts.baking.has(b.job ?? '')
    if (WINDOW.includes(b.kind) && isBaking) return false
    return !isOver(b)
  })
}

/** What decides whether bells come together. */
export type Grouping = {
  /** Whether a card may still take bells: nobody has answered it. */
  readonly isOpen: (card: string) => boolean
  /** Whether a bell is new to everybody: one that the log knows as answered gets its own card. */
  readonly isFresh: (bell: Bell) => boolean
}

/**
 * Lays due bells onto cards. A bell keeps its card; a fresh one joins an open card of its kind and
 * job if both deadlines came within a minute; else it opens one.
 */
export function regroup(
  before: readonly Card[],
  bells: readonly Bell[],
  { isOpen, isFresh }: Grouping,
): readonly Card[] {
  const byKey = new Map(bells.map((b) => [b.key, b]))
  const cards: Card[] = before.map((card) => ({
    ...card,
    bells: card.bells.flatMap((b) => byKey.get(b.key) ?? []),
  }))
  const placed = new Set(cards.flatMap((c) => c.bells.map((b) => b.key)))
  for (const bell of [...bells].sort((a, b) => a.dueAt - b.dueAt)) {
    if (placed.has(bell.key)) continue
    const at = cards.findIndex((card) => joins(card, bell) && isOpen(card.key) && isFresh(bell))
    const card = cards[at]
    if (card === undefined) cards.push(cardOf(bell))
    else cards[at] = { ...card, bells: [...card.bells, bell] }
  }
  return cards.filter((c) => c.bells.length > 0)
}

/** A pot life past has its own card: an answer on the whole screen is for one cup. */
const joins = (card: Card, bell: Bell): boolean =>
  bell.kind !== 'potOver' &&
  bell.job !== undefined &&
  card.kind === bell.kind &&
  card.job === bell.job &&
  Math.abs(bell.dueAt - card.dueAt) <= TOGETHER_MS

function cardOf(bell: Bell): Card {
  const { key, kind, dueAt, job } = bell
  return { key, kind, dueAt, bells: [bell], ...(job === undefined ? {} : { job }) }
}

type Urgent = Pick<Ringing, 'key' | 'kind' | 'dueAt' | 'raisedAtMs'>

/** Order of sounding and of the list: class, then deadline, then age. */
export function byUrgency(a: Urgent, b: Urgent): number {
  return (
    RANK[BELLS[a.kind].class] - RANK[BELLS[b.kind].class] ||
    a.dueAt - b.dueAt ||
    a.raisedAtMs - b.raisedAtMs ||
    (a.key < b.key ? -1 : 1)
  )
}

/**
 * Whether so many bells ring that only the most urgent kind may sound.
 * @param raisedAtMs when bells were raised recently; older ones do not count
 */
export function isFlood(
  ringing: readonly Pick<Ringing, 'kind'>[],
  raisedAtMs: readonly number[],
  nowMs: number,
): boolean {
  const kinds = new Set(ringing.map((r) => BELLS[r.kind].sound))
  const recent = raisedAtMs.filter((at) => nowMs - at < FLOOD_WITHIN_MS)
  return kinds.size >= FLOOD_KINDS || recent.length > FLOOD_RAISED
}

export type Heard = { readonly sound: SoundName; readonly endedAtMs: number }

/**
 * The bell whose turn it is to sound now: one at a time, the two most urgent kinds by turns (in a
 * flood the most urgent alone), a second of silence after whatever sounded before.
 * @returns its key; null while no bell has the turn
 */
export function nextSound(
  ringing: readonly Ringing[],
  last: Heard | null,
  nowMs: number,
  inFlood: boolean,
): string | null {
  if (last !== null && nowMs - last.endedAtMs < PAUSE_MS) return null
  const audible = ringing.filter((r) => r.isAudible).sort(byUrgency)
  const sounds = [...new Set(audible.map(soundOf))].slice(0, inFlood ? 1 : 2)
  const wanting = audible.filter((r) => r.wantsTurn && sounds.includes(soundOf(r)))
  const other = wanting.find((r) => soundOf(r) !== last?.sound)
  return (other ?? wanting[0])?.key ?? null
}

const soundOf = (r: Pick<Ringing, 'kind'>): SoundName => BELLS[r.kind].sound

/**
 * Whether a card sounds on a kiosk: at first at the work position that it is about, on every kiosk
 * once it reaches further. A card of no particular position sounds everywhere.
 * @param position the zone that a kiosk is bound to; '' for the whole shop
 */
export const soundsAt = (position: string, reach: Reach, { bells }: Pick<Card, 'bells'>): boolean =>
  position === '' ||
  reach !== 'position' ||
  bells.some(({ zone }) => zone === undefined || zone === position)
