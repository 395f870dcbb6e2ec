import { type Deciding, thingThen } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import { cupEndsAt, inductionEndsAt } from './ends.ts'
import { keepEndsAt } from './keep.ts'
import type { CupContext } from './machine.ts'
import { isWithoutActivator, toAdd } from './ratio.ts'

/** A cup as it was when the command happened; null for one that was not mixed yet. */
export function findCup(d: Deciding, id: string | undefined): CupContext | null {
  if (id === undefined) return null
  const thing = thingThen(d, { kind: 'cup', id })
  return !thing || thing.value === 'unmixed' ? null : thing.context
}

const tenths = (amount: number): number => Math.round(amount * 10) / 10

/** What was poured wrong: what to add to it, or that nothing in it will cure. */
function ratioProblems(d: Deciding, about: string, cup: CupContext): Problem[] {
  const { off = [], parts = [], by } = cup
  const sheet = sheetAt(d.state, cup.sheet, cup.mixedAt)?.sheet
  const add = (sheet ? toAdd(sheet, parts) : []).map(({ name, amount }) => ({
    name,
    amount: tenths(amount),
  }))
  return off.map((one): Problem => {
    const { name: part, least, most } = one
    if (isWithoutActivator([one])) {
      return { code: 'noActivator', limit: tenths(least), value: 0, about, part }
    }
    const limit = { least: tenths(least), most: tenths(most) }
    return { code: 'ratioOff', limit, value: tenths(one.amount), about, part, by, add }
  })
}

/** The problems of spraying from a cup at an instant, whatever it is sprayed on. */
export function cupProblems(
  d: Deciding,
  id: string,
  cup: CupContext | null,
  at: number,
): Problem[] {
  if (!cup) return [{ code: 'cupUnknown', limit: null, value: id }]
  const problems: Problem[] = []
  // A start that is only estimated may lie before the cup was mixed, and then before it was emptied.
  if (cup.emptiedAt !== null && cup.emptiedAt <= at)
    problems.push({ code: 'cupEmptied', limit: cup.emptiedAt, value: id })
  const standsUntil = inductionEndsAt(d.state, cup)
  if (standsUntil !== null && at < standsUntil) {
    problems.push({
      code: 'inductionNotOver',
      limit: standsUntil,
      value: at,
      clearsAt: standsUntil,
      about: id,
    })
  }
  const ends = cupEndsAt(d.state, cup)
  if (ends !== null && at >= ends)
    problems.push({ code: 'potLifeOver', limit: ends, value: at, about: id })
  problems.push(...ratioProblems(d, id, cup))
  const keeps = keepEndsAt(d.state, cup, at)
  if (ends === null && keeps !== null && at >= keeps)
    problems.push({ code: 'keepOver', limit: keeps, value: at, about: id })
  return problems
}
