import type { Draft } from '../../machines/envelope.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { Findings } from './randomJudge.ts'
import type { Known } from './randomKnown.ts'

/** What was weighed into a cup, judged again: per cent of what the base that is in it asks for. */

/** From and to how many per cent of its share a component may be. */
const RANGE: Readonly<Record<string, readonly [number, number]>> = {
  activator: [95, 110],
  reducer: [85, 115],
  additive: [75, 110],
}
const DIVISIONS_G = 0.2

function isOff(sheet: Sheet, grams: readonly number[], i: number): boolean {
  const base = sheet.components.findIndex((c) => c.role === 'base')
  const [one, of] = [sheet.components[i], sheet.components[Math.max(0, base)]]
  if (!one || !of || one === of || one.parts === 0) return false
  const weight = (c: typeof one) => (sheet.by === 'mass' ? 1 : Number(c.densityGPerMl))
  const poured = (grams[sheet.components.indexOf(of)] ?? 0) / weight(of)
  const wantedG = ((poured * one.parts) / of.parts) * weight(one)
  const hasG = grams[i] ?? 0
  const [least, most] = RANGE[one.role] ?? [95, 105]
  const percent = (100 * hasG) / wantedG
  const isNear = Math.abs(hasG - wantedG) <= DIVISIONS_G + 1e-9
  return !isNear && (percent < least - 1e-9 || percent > most + 1e-9)
}

/** What a cup's first entry says of its ratio; of a pour nothing is said here. */
export function ratioFindings(known: Known, born: Draft): Findings {
  if (born.type !== 'CupMixed') return { ratioOff: 'close', noActivator: 'close' }
  const grams = born.data.pouredG as readonly number[] | undefined
  const sheet = known.sheet(born.sheet, born.at)
  const hasDensities = sheet?.components.every((c) => sheet.by === 'mass' || c.densityGPerMl)
  if (!grams || !sheet || !hasDensities) return { ratioOff: 'no', noActivator: 'no' }
  const off = sheet.components.flatMap((_, i) => (isOff(sheet, grams, i) ? [i] : []))
  const lacks = off.filter(
    (i) => sheet.components[i]?.role === 'activator' && (grams[i] ?? 0) === 0,
  )
  return {
    ratioOff: off.length > lacks.length ? 'yes' : 'no',
    noActivator: lacks.length > 0 ? 'yes' : 'no',
  }
}
