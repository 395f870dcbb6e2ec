import type { CommandData } from '../commands.ts'
import { findCup } from '../cup/find.ts'
import { type Deciding, type Decision, type NewFact, refused } from '../deciding.ts'
import { judge } from '../judge.ts'
import { panelKeys } from './coat.ts'
import { type FoundPanel, findPanels } from './find.ts'
import { holdOf, productOf } from './hold.ts'
import { notFrom } from './notFrom.ts'
import { opensAt } from './opens.ts'

type BreakOff = Deciding<'BreakOffCoat', CommandData<'BreakOffCoat'>>

function factOf(d: BreakOff, p: FoundPanel): NewFact {
  const { open, route } = p.panel
  const holds = open?.cups.map((id, i) => open.holds?.[i] ?? holdOf(findCup(d, id))) ?? []
  const product = productOf(holds, route[open?.step ?? -1]?.sheet)
  const { doneShare } = d.data
  return {
    type: 'CoatBrokenOff',
    keys: panelKeys(p),
    data: {
      opens: opensAt(d.state, product, d.at, open?.kind ?? 'full'),
      mixes: product.mixes,
      ...(doneShare === undefined ? {} : { doneShare }),
    },
  }
}

/**
 * Coats that are broken off in the middle: what is on flashes from now, and counts once the coat has
 * been continued and finished. Until then it may be continued at any time within the windows of what
 * lies under it, for a part of the panel has no coat yet.
 */
export function breakOffCoat(d: BreakOff): Decision {
  const { found, problems } = findPanels(d, d.data.panels)
  if (problems.length > 0) return refused(...problems)
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: found.flatMap((p) => notFrom(d, p, { type: 'CoatBrokenOff', data: {} })),
  })
  if ('refusal' in verdict) return verdict
  return { facts: found.map((p) => ({ ...factOf(d, p), marks: verdict.marks(p.id) })) }
}
