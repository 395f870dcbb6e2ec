import { BELLS, type SoundName } from '../../machines/bell/kinds.ts'
import { countdown } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import type { Lane } from './lanes.ts'
import { stepWord } from './stepWord.ts'

/** What digits count to or from, UTC ms. */
export type Counting = { readonly toMs: number } | { readonly sinceMs: number }

/** What a lane's chip shows: a countdown or a word, and what it is about. */
export type Chip = {
  /** As it is at the moment of asking: a countdown's digits go on by `counting`. */
  readonly big: string
  readonly small: string
  /** The bell whose color it carries: only what rings or answers a bell has one. */
  readonly sound: SoundName | null
  /** Null for a word. */
  readonly counting: Counting | null
}

/** The digits of a countdown, or of the time since. @param now kiosk time, UTC ms */
export function digitsOf(counting: Counting, now: number): string {
  if ('toMs' in counting) return countdown(counting.toMs - now)
  // A start of this very moment may lie a hair ahead of the screen's clock.
  return countdown(Math.max(0, now - counting.sinceMs))
}

const SECOND_MS = 1_000

/**
 * Digits that are written once a second, all of a screen together: what is right in the middle of that second, so
 * that none is more than half a second early or late. An end is not shown before it comes.
 */
export function digitsIn(counting: Counting, now: number): string {
  const middle = (Math.floor(now / SECOND_MS) + 0.5) * SECOND_MS
  const isEnding = 'toMs' in counting && now < counting.toMs && counting.toMs < middle
  return digitsOf(counting, isEnding ? counting.toMs : middle)
}

/** What a panel that is hot from its bake cannot take yet. */
const HOT_HOLDS: readonly Lane['waits']['for'][] = ['coat', 'recoat', 'abrade', 'hand', 'pass']

/** @param now kiosk time, UTC ms */
export function chipOf(lane: Lane, words: Words, now: number): Chip {
  const { wall } = words
  const { waits } = lane
  const stage = stepWord(lane, words)
  const next = lane.coatsOn + 1
  const word = (big: string, small: string, sound: SoundName | null = null): Chip => ({
    big,
    small,
    sound,
    counting: null,
  })
  const counts = (counting: Counting, small: string, sound: SoundName | null = null): Chip => ({
    big: digitsOf(counting, now),
    small,
    sound,
    counting,
  })
  const count = (toMs: number, small: string, sound: SoundName | null = null) =>
    counts({ toMs }, small, sound)
  const filmAt = waits.for === 'hand' || waits.for === 'abrade' ? (waits.until ?? null) : null
  if (lane.hotUntil !== null && lane.hotUntil >= (filmAt ?? 0) && HOT_HOLDS.includes(waits.for))
    return count(lane.hotUntil, wall.hot)
  const closing = lane.bell?.bell === 'windowClosing'
  // A coat without a product: what comes next is to choose one.
  if (waits.for === 'coat' && lane.noWay?.isDue && lane.noWay.code === 'noSheet')
    return word(wall.noSheet, wall.noSheetWhy)
  switch (waits.for) {
    case 'spraying':
      return counts({ sinceMs: waits.since }, wall.spraying(stage, next))
    case 'flash':
      return count(waits.until, wall.toCoat(stage, next))
    case 'noFlash':
      return word(wall.noFlash, wall.noFlashWhy)
    case 'look':
      return waits.at !== null && now < waits.at
        ? count(waits.at, wall.lookIn)
        : word(wall.look, wall.lookWhy, BELLS.look.sound)
    case 'abrade':
      if (filmAt !== null) return count(filmAt, wall.toHand(words.after.abrade ?? ''))
      if (waits.why !== undefined)
        return word(waits.why === 'never' ? wall.stop : wall.abrade, wall.under[waits.why])
      return word(
        wall.abrade,
        waits.isBeforeCoat ? wall.thenRecoat : wall.abradeWhy,
        BELLS.windowShut.sound,
      )
    case 'recoat': {
      const product = words.stage[waits.of.stage]
      return waits.isAbraded
        ? word(wall.recoat, `${product}, ${words.states.panel.abraded}`)
        : word(wall.reapply, `${product}, ${wall.abradeWhy}`, BELLS.windowShut.sound)
    }
    case 'coat':
      if (closing && lane.band?.shutsAt)
        return count(
          lane.band.shutsAt,
          wall.orElse(words.after[lane.band.afterWindow] ?? ''),
          BELLS.windowClosing.sound,
        )
      return waits.since === null
        ? word(wall.coatNow(stage, next), wall.firstCoat)
        : word(wall.coatNow(stage, next), wall.mayGoOn, BELLS.coatReady.sound)
    case 'hand':
      return filmAt === null
        ? word(wall.hand(stage), wall.handWhy)
        : count(filmAt, wall.toHand(stage))
    case 'heatAsk':
      return word(wall.notKnown, wall.heatFlash)
    case 'heatNoFlash':
      return word(wall.noFlash, wall.noFlashWhy)
    case 'noCure':
      return word(wall.noCure, wall.noCureWhy)
    case 'heatFlash':
      return count(waits.until, wall.toHeat)
    case 'heat':
      return word(wall.heat, wall.heatWhy, lane.bell ? BELLS.mayGoToHeat.sound : null)
    case 'cure':
      if (waits.until !== null) return count(waits.until, wall.ofCure)
      if (waits.isTooCold) return word(wall.tooCold, wall.tooColdWhy)
      return waits.isMeasured
        ? word(wall.heating, wall.heatingWhy)
        : word(wall.unmeasured, wall.unmeasuredWhy)
    case 'cureEnd':
      return word(wall.cured, wall.curedWhy, BELLS.cureOver.sound)
    case 'pass':
      return word(wall.pass, wall.passWhy)
  }
}

/** "SENT BACK" or "ABRADED": what is under the next coat, where neither the chip nor the coats say it. */
export const underText = ({ phase }: Pick<Lane, 'phase'>, { states }: Words): string =>
  phase === 'sentBack' || phase === 'abraded' ? states.panel[phase].toUpperCase() : ''
