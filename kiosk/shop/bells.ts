import { bellOf } from '../../machines/bell/fold.ts'
import type { Known } from '../../machines/bell/machine.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import type { State } from '../../machines/state.ts'
import type { Open } from '../ringer.ts'

/** What may ring, as the folded log has it. */

function known(state: State, key: string): Known | undefined {
  const bell = bellOf(state, key)
  if (bell === undefined || bell.rangAt === null) return undefined
  const snoozed = bell.snoozes.at(-1)
  return {
    isAcknowledged: bell.acknowledged.length > 0,
    snoozes: bell.snoozes.length,
    ...(snoozed ? { snoozedUntilMs: snoozed.untilMs } : {}),
  }
}

const idsWhere = <C>(things: State['things']['cup'], is: (context: C) => boolean): Set<string> =>
  new Set(Object.keys(things).filter((id) => is(things[id]?.context as C)))

/** The bells of a state, for the ringer: all deadlines, and what makes some of them meaningless. */
export const openBells = (state: State): Open => ({
  bells: deadlines(state).map(({ key, bell, dueAt, thing, job }) => ({
    key,
    kind: bell,
    dueAt,
    thing: thing.id,
    ...(job === undefined ? {} : { job }),
  })),
  facts: {
    emptied: idsWhere<CupContext>(state.things.cup, (cup) => cup.emptiedAt !== null),
    baking: idsWhere<PanelContext>(state.things.panel, (panel) => panel.cure?.mode === 'bake'),
  },
  known: (key) => known(state, key),
})
