import { isPrompt } from '../../machines/bell/deadline.ts'
import type { CommandType } from '../../machines/commands.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { dueStep } from '../../machines/panel/context.ts'
import { isSprayed } from '../../machines/sheet/schema.ts'
import { benchMakers, mix } from './randomBench.ts'
import { type Maker, overrideOf, type Wish } from './randomChoices.ts'
import type { RandomDay } from './randomDay.ts'
import type { Dice } from './randomDice.ts'
import { cupFor, finishCoat, panelMakers, startCoat } from './randomMakers.ts'
import { openPanels, type SeenPanel, stepDue } from './randomView.ts'

export const makers: { readonly [T in CommandType]?: Maker } = { ...panelMakers, ...benchMakers }

/** What a painter would do next, at one of the panels. */
export function nextWish(day: RandomDay, dice: Dice): Wish | null {
  const open = openPanels(day.state).filter((p) => p.where !== 'passed')
  // Who has begun goes on with it, mostly.
  const begun = open.filter(({ panel }) => dueStep(panel) > 0 || panel.coats.length > 0)
  const p = dice.chance(75) && begun.length > 0 ? dice.of(begun) : dice.of(open)
  const make = (type: CommandType, maker: Maker | undefined = makers[type]): Wish | null => {
    const wish = maker?.(day, dice)
    return wish ? { type, ...wish } : null
  }
  if (!p) return dice.chance(60) ? make('AddPanel') : make('OpenJob')
  const { panel, id } = p
  const step = stepDue(p)
  const prompts = deadlines(day.state).filter((d) => isPrompt(d.bell) && d.thing.id === id)
  const isReady = dice.chance(25) || prompts.every((d) => d.dueAt <= day.now)
  if (panel.open) return make('FinishCoat', dice.chance(70) ? finishThis(p) : finishCoat)
  if (panel.cure)
    return isReady ? make('EndCure', () => ({ data: { panels: [id] } })) : make('ReadPart')
  if (!step) return { type: 'PassPanel', data: { panel: id } }
  if (step.stage === 'cure') {
    const mode = dice.of(['air', 'bake', 'air', 'infrared'])
    const setC = mode === 'bake' ? { setC: dice.between(40, 90) } : {}
    return { type: 'StartCure', data: { panels: [id], mode, ...setC } }
  }
  if (!isSprayed(step.stage))
    return { type: 'DoPrepStep', data: { panel: id, step: dueStep(panel), grit: 800 } }
  if (!isReady) return make('ReadClimate')
  const looks = panel.coats.at(-1)?.opens?.flashBy === 'appearance' && panel.mattAt === null
  if (looks && dice.chance(80)) return { type: 'InspectCoat', data: { panel: id, result: 'matt' } }
  const cup = cupFor(day, p)
  if (cup && dice.chance(4)) return { type: 'EmptyCup', data: { cup: cup.id, how: 'used' } }
  if (cup && cup.cup.prints.length === 0 && dice.chance(40)) {
    return { type: 'PrintLabel', data: { cup: cup.id } }
  }
  if (!cup) return make('MixCup', () => mix(day, dice, step))
  return make('StartCoat', dice.chance(20) ? startCoat : startThis(p, cup.id))
}

const finishThis =
  (p: SeenPanel): Maker =>
  () => ({ data: { panels: [p.id] } })
const startThis =
  (p: SeenPanel, cup: string): Maker =>
  (_, dice) => ({ data: { panels: [p.id], cup, ...overrideOf(dice) } })
