import type { BellContext } from '../../machines/bell/context.ts'
import type { Deadline } from '../../machines/bell/deadline.ts'
import { bellOf, hasRung } from '../../machines/bell/fold.ts'
import type { Known } from '../../machines/bell/machine.ts'
import { bellRules } from '../../machines/bell/rules.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { devicesOf } from '../../machines/devices/fold.ts'
import { BLANK_PANEL, zoneOf } from '../../machines/panel/context.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { Open } from './open.ts'

/** What may ring, according to the folded log. */

function knownOf(bell: BellContext | undefined): Known | undefined {
  if (bell === undefined || bell.rangAt === null) return undefined
  const snoozed = bell.snoozes.at(-1)
  return {
    isAcknowledged: bell.acknowledged.length > 0,
    snoozes: bell.snoozes.length,
    ...(snoozed ? { snoozedUntilMs: snoozed.untilMs } : {}),
  }
}

const idsWhere = <T>(
  things: { readonly [id: string]: T },
  is: (thing: T) => boolean,
): Set<string> => new Set(Object.entries(things).flatMap(([id, thing]) => (is(thing) ? [id] : [])))

/** Where a deadline's thing is. */
function zoneIn(state: State, { thing }: Deadline): { zone?: string } {
  if (thing.kind === 'gun') return {}
  const zone =
    thing.kind === 'panel'
      ? zoneOf(contextOf(state, 'panel', thing.id) ?? BLANK_PANEL)
      : contextOf(state, 'cup', thing.id)?.zone
  return zone ? { zone } : {}
}

/** The bells of a state, for the ringer: all deadlines, and what makes some of them meaningless. */
export const openBells = (state: State): Open => ({
  bells: deadlines(state).map((deadline) => ({
    key: deadline.key,
    kind: deadline.bell,
    dueAt: deadline.dueAt,
    thing: deadline.thing.id,
    ...(deadline.job === undefined ? {} : { job: deadline.job }),
    ...zoneIn(state, deadline),
  })),
  facts: {
    emptied: idsWhere(state.things.cup, ({ value }) => value === 'emptied'),
    baking: idsWhere(state.things.panel, ({ context }) => context.cure?.mode === 'bake'),
  },
  known: (key) => {
    const deadline = deadlines(state).find((one) => one.key === key)
    // A deadline that moved later by more than a minute is a new notice, however the last one was answered.
    if (deadline && !hasRung(state, deadline)) return undefined
    return knownOf(bellOf(state, key))
  },
  rules: bellRules(state),
  isFloodKnown: devicesOf(state).floods.some(({ isOn }) => isOn),
})
