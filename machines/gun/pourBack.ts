import type { CommandData } from '../commands.ts'
import { wrongAt } from '../contract/wrongField.ts'
import { colourOf, colourText } from '../cup/colours.ts'
import { cupProblems, findCup } from '../cup/find.ts'
import type { CupContext } from '../cup/machine.ts'
import { isSameColour } from '../cup/paint.ts'
import { OF_SPRAYING } from '../cup/pour.ts'
import { type Deciding, type Decision, thingThen } from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import type { State } from '../state.ts'
import { backOf, foreign } from './back.ts'
import { pourIntoCleanCup } from './cleanCup.ts'
import { gunEndsAt, holding, isGunKnown } from './find.ts'
import type { GunContext } from './machine.ts'

type Back = Deciding<'PourBack', CommandData<'PourBack'>>
type Load = GunContext['loads'][number]

/** A cup takes back its own product and color only. */
export function fitProblems(state: State, loads: readonly Load[], cup: CupContext, about: string) {
  const held = 'gun'
  return loads.flatMap((load): Problem[] => {
    if (load.sheet !== cup.sheet)
      return [{ code: 'wrongProduct', limit: cup.sheet, value: load.sheet, about, held }]
    const own = colourOf(state, cup)
    if (isSameColour(own, load)) return []
    const limit = colourText(state, own, load)
    return [{ code: 'wrongColour', limit, value: colourText(state, load, own), about, held }]
  })
}

/**
 * What was left in a gun goes back into a cup, which from then on ends with whichever of the two ends
 * first: it takes the gun's clock. The gun keeps its clock until it is
 * rinsed or cleaned. `ml`, where it was measured, is in the cup again if it came from another one.
 * Into a clean cup it is a cup of its own (cleanCup.ts).
 * Refuses an empty gun (`gunEmpty`), a gun with two materials or one past its time (`gunHolds`), another
 * product or color, and what a pour into the cup is refused for.
 */
export function pourBack(d: Back): Decision {
  const { gun: id, cup: cupId, ml, cleanCup, override } = d.data
  // A cup without an amount cannot be planned with.
  if (cleanCup && ml === undefined) return wrongAt('data.ml', undefined, 'value', {})
  if (cleanCup && ml !== undefined) return pourIntoCleanCup(d, ml)
  const thing = thingThen(d, { kind: 'gun', id })
  const cup = findCup(d, cupId)
  const loads = thing?.context.loads ?? []
  const others = foreign(loads, cupId)
  const isKnown = isGunKnown(d.state, id, d.at)
  const about = thing?.context.spec?.name ?? id
  const ends = thing ? gunEndsAt(d.state, thing.context) : null
  const isOver = ends !== null && d.at >= ends && others.length > 0
  const ofGun: Problem[] = !isKnown
    ? []
    : !thing || loads.length === 0
      ? [{ code: 'gunEmpty', limit: null, value: id, about }]
      : thing.value === 'dirty'
        ? [holding(id, thing.context, cup?.sheet ?? null)]
        : [
            ...(cup ? fitProblems(d.state, loads, cup, about) : []),
            ...(isOver ? [holding(id, thing.context, cup?.sheet ?? null, true)] : []),
          ]
  const problems = [
    ...cupProblems(d, cupId, cup, d.at).filter(({ code }) => !OF_SPRAYING.includes(code)),
    ...ofGun,
  ]
  const notJudged = new Map([['', isKnown ? [] : ['gunHolds']]])
  const verdict = judge({ isLive: d.isLive, now: d.now, problems, notJudged, override })
  if ('refusal' in verdict) return verdict
  const back = backOf(others, (one) => findCup(d, one))
  const data = { ...back, ...(ml === undefined ? {} : { ml }) }
  const job = cup?.job ?? null
  const keys = {
    gun: id,
    cup: cupId,
    ...(cup ? { sheet: cup.sheet } : {}),
    ...(job === null ? {} : { job }),
  }
  return { facts: [{ type: 'GunPouredBack', keys, data, marks: verdict.marks() }] }
}
