import { sheetAt } from '../sheet/fold.ts'
import {
  type CureFigures,
  chosenOptions,
  type Opens,
  opensOf,
  opensOfAll,
} from '../sheet/intervals.ts'
import type { State } from '../state.ts'
import { type CoatKind, lastCoat, type PanelContext } from './context.ts'
import type { Product } from './hold.ts'

/** What a coat opens: the figures of its product, from the sheet of that day. */
export function opensAt(
  state: State,
  { sheet, mixes }: Product,
  at: number,
  kind: CoatKind,
): Opens | null {
  const saved = sheetAt(state, sheet, at)
  if (!saved) return null
  const options = mixes.map(({ activator, reducer, additives }) =>
    chosenOptions(saved.sheet, activator ?? undefined, reducer ?? undefined, additives),
  )
  const opens = opensOfAll(saved.sheet, saved.version, options.length > 0 ? options : [[]], kind)
  return mixes.some((mix) => mix.lacksActivator) ? { ...opens, neverCures: true } : opens
}

/** Of a film that nobody knows: no cure is foreseen. */
const NO_CURE: CureFigures = { air: null, bake: [], infrared: null }

/** The figures of the product that is cured: as the last coat opened them, else as the route names it. */
export function cureFiguresAt(
  state: State,
  panel: PanelContext,
  step: number,
  at: number,
): CureFigures {
  const opened = lastCoat(panel)?.opens?.cure
  if (opened) return opened
  const saved = sheetAt(state, panel.route[step]?.sheet, at)
  return saved ? opensOf(saved.sheet, saved.version, []).cure : NO_CURE
}
