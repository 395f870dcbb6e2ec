import type { Deciding } from '../deciding.ts'
import { dayIn } from '../shop/hours.ts'
import { settingsAt } from '../shop/settings.ts'
import { contextOf } from '../state.ts'
import { STORED_CHECKS, type StoredCheck } from './checks.ts'
import type { CupContext } from './machine.ts'
import { hasFlakes } from './paint.ts'

function isEffect(d: Pick<Deciding, 'state'>, cup: CupContext): boolean {
  const colours = contextOf(d.state, 'job', cup.job ?? undefined)?.colours ?? []
  return colours.some(({ key, kind = '' }) => key === cup.colour && hasFlakes(kind))
}

/**
 * What has still to be done with a cup before its first use of a day: nothing of one
 * whose contents were mixed today, or of one that was looked after today.
 */
export function storedChecks(d: Pick<Deciding, 'state' | 'at'>, cup: CupContext): StoredCheck[] {
  const dayOf = dayIn(settingsAt(d.state, d.at).timeZone)
  const today = dayOf(d.at)
  const isFresh = dayOf(cup.firstMixedAt ?? cup.mixedAt) === today
  const isUsed = cup.lastUsedAt !== undefined && dayOf(cup.lastUsedAt) === today
  if (isFresh || isUsed) return []
  const { at, done } = cup.checked ?? { at: 0, done: [] }
  const kept = dayOf(at) === today ? done : []
  return STORED_CHECKS.filter(
    (check) => !kept.includes(check) && (check !== 'cardSprayed' || isEffect(d, cup)),
  )
}
