import { materialOf } from '../cup/colours.ts'
import { gunEndsAt } from '../gun/find.ts'
import type { GunContext } from '../gun/machine.ts'
import { zoneOfLastCoat } from '../panel/gunVapor.ts'
import { isPresent } from '../people/fold.ts'
import { nextAt, openHours } from '../shop/hours.ts'
import { settingsAt } from '../shop/settings.ts'
import type { State } from '../state.ts'
import type { Means, WhatIf } from './forecastTypes.ts'

/** The people, guns and hours that a shop has for its plan. */

/** How far ahead a plan looks. */
export const HORIZON_DAYS = 21
const DAY_MS = 86_400_000

/** When somebody is there from an instant on. */
function openSpans(state: State, now: number): Means['open'] {
  const settings = settingsAt(state, now)
  const { hours, timeZone } = settings
  const isOpen = openHours(settings)
  if (!hours || !isOpen || hours.opensAt === hours.closesAt)
    return [{ fromMs: now, toMs: now + HORIZON_DAYS * DAY_MS }]
  const spans: { fromMs: number; toMs: number }[] = []
  let at = now
  while (at < now + HORIZON_DAYS * DAY_MS) {
    const fromMs = isOpen(at) ? at : nextAt(hours.opensAt, timeZone, at)
    const toMs = nextAt(hours.closesAt, timeZone, fromMs)
    spans.push({ fromMs, toMs })
    at = toMs
  }
  return spans
}

/**
 * A shop that has named nobody is one painter. Whoever leads paints as well; who prepares does not.
 */
function peopleOf(state: State): { painters: number; preppers: number } {
  const people = Object.values(state.things.person)
    .map(({ context }) => context)
    .filter(isPresent)
  if (people.length === 0) return { painters: 1, preppers: 0 }
  const preppers = people.filter(({ role }) => role === 'prepper').length
  return { painters: people.length - preppers, preppers }
}

/** A material by its product and color. */
const heldBy = ({ loads }: GunContext): string | null => {
  const load = loads.at(-1)
  return load ? materialOf(load.sheet ?? '', load) : null
}

const zonesOf = ({ loads }: GunContext): string[] =>
  loads.flatMap(({ clocks }) =>
    clocks.flatMap(({ zone, moves = [] }) => [zone, ...moves.map((move) => move.zone)]),
  )

const gunsOf = (state: State, now: number): Means['guns'] =>
  Object.entries(state.things.gun)
    .filter(([, { context }]) => context.spec !== null)
    .map(([id, { context }]) => ({
      ...{ id, holds: heldBy(context), overAt: gunEndsAt(state, context) },
      zone: zoneOfLastCoat(state, id, now) ?? null,
      zones: zonesOf(context),
      needleMm: context.spec?.needleMm ?? null,
      sprayed: context.loads.at(-1)?.sheet ?? context.cleaning?.sheets.at(-1) ?? null,
    }))

export function meansOf(state: State, now: number, whatIf: WhatIf = {}): Means {
  const { painters, preppers } = peopleOf(state)
  const open = openSpans(state, now)
  return {
    painters: whatIf.painters ?? painters,
    preppers,
    guns: gunsOf(state, now),
    open,
    dayMs: Math.max(...open.map((span) => span.toMs - span.fromMs)),
    hasHours: settingsAt(state, now).hours !== undefined,
  }
}

/**
 * The first moment from which some work fits in while somebody is there. What takes longer than a day
 * begins when the shop opens.
 * @returns Infinity beyond the horizon
 */
export function fitIn({ open, dayMs }: Means, fromMs: number, ms: number): number {
  for (const span of open) {
    const at = Math.max(fromMs, span.fromMs)
    if (at >= span.toMs && ms > 0) continue
    if (at + ms <= span.toMs || (ms > dayMs && at === span.fromMs)) return at
  }
  return Number.POSITIVE_INFINITY
}
