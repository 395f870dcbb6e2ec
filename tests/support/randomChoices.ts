import type { CommandType } from '../../machines/commands.ts'
import type { RandomDay } from './randomDay.ts'
import type { Dice } from './randomDice.ts'
import { openPanels, type SeenPanel } from './randomView.ts'

/** What all makers of random commands share. */

export type Wish = {
  readonly type: CommandType
  readonly data: object
  readonly at?: number
  readonly reason?: string
  readonly by?: string
}
/** Null where there is nothing to do it to. */
export type Maker = (day: RandomDay, dice: Dice) => Omit<Wish, 'type'> | null

export const ZONES = ['booth', 'bench', 'bay'] as const
export const PEOPLE = ['painter-1', 'painter-2'] as const
export const GUNS = ['gun-1', 'gun-2'] as const

/** Usually one that fits, sometimes any: people make mistakes. */
export function likely<T>(
  dice: Dice,
  all: readonly T[],
  fits: (item: T) => boolean,
): T | undefined {
  const right = all.filter(fits)
  return dice.chance(8) || right.length === 0 ? dice.of(all) : dice.of(right)
}

export const overrideOf = (dice: Dice, percent = 20) =>
  dice.chance(percent) ? { override: { reason: 'the lead was asked' } } : {}

export const onPanel = (
  dice: Dice,
  day: RandomDay,
  fits: (p: SeenPanel) => boolean,
  data: (p: SeenPanel) => object,
) => {
  const p = likely(dice, openPanels(day.state), fits)
  return p ? { data: { panel: p.id, ...data(p) } } : null
}
