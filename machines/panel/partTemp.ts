import type { Deciding } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import type { Sheet } from '../sheet/schema.ts'
import { settingsAt } from '../shop/settings.ts'
import type { FoundPanel } from './find.ts'
import type { Surface } from './surface.ts'

/** How cold and how warm a part may be that is sprayed: by its sheet, else as is usual. */

/** °C, for activated and waterborne products whose sheet says nothing. Common practice, no source. */
export const PART_LIMITS = {
  partMarkMinC: 15,
  partMarkMaxC: 35,
  partMinC: 10,
  partMaxC: 45,
} as const

const isSensitive = ({ medium, activators, components }: Sheet): boolean =>
  medium === 'waterborne' ||
  activators.length > 0 ||
  components.some(({ role }) => role === 'activator')

/**
 * @param surface of the part, where it is known
 * @returns a refusal beyond the sheet's limits or the shop's; a mark between the shop's marks and limits
 */
export function partTempProblems(
  d: Deciding,
  { id, panel }: FoundPanel,
  sheet: Sheet | undefined,
  surface: Surface | null,
): Problem[] {
  if (!surface || !sheet) return []
  const { minPartC, maxPartC } = sheet.limits
  const usual: Partial<Record<keyof typeof PART_LIMITS, number | undefined>> = isSensitive(sheet)
    ? { ...PART_LIMITS, ...settingsAt(d.state, d.at).limits }
    : {}
  const { partMinC = -Infinity, partMaxC = Infinity } = usual
  const { partMarkMinC = -Infinity, partMarkMaxC = Infinity } = usual
  const leastC = minPartC ?? partMinC
  const mostC = maxPartC ?? partMaxC
  const { partC: value } = surface
  const problem = (limit: number, why?: 'mark'): Problem[] => [
    { code: 'partTemp', limit, value, ...(why ? { why } : {}), panel: id, about: panel.name },
  ]
  if (value < leastC) return problem(leastC)
  if (value > mostC) return problem(mostC)
  if (minPartC === undefined && value < partMarkMinC) return problem(partMarkMinC, 'mark')
  if (maxPartC === undefined && value > partMarkMaxC) return problem(partMarkMaxC, 'mark')
  return []
}
