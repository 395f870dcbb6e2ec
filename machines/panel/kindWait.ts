import { type DropOver, halved } from '../sheet/between.ts'
import type { KindWait, Opens } from '../sheet/intervals.ts'
import type { CoatKind } from './context.ts'

/**
 * What the kind of the coming coat waits for over its own product; undefined for as long as a full one.
 * @param dropOver what the shop says of its drop coats
 */
export function kindWait(
  opens: Opens,
  kind: CoatKind,
  dropOver: DropOver | undefined,
): KindWait | undefined {
  const own = opens.betweenBy?.[kind] ?? opens.betweenBy?.full
  if (kind !== 'drop' || opens.betweenBy?.drop || dropOver === undefined) return own
  if (dropOver === 'wet') return { by: 'wet' }
  if (dropOver === 'matte') return { by: 'eye' }
  const flash = opens.flashBetween.map((one) => ({ ...one, points: halved(one.points) }))
  return { by: 'clock', flash }
}
