import { sheetAt } from '../sheet/fold.ts'
import { chosenOptions, type Opens, opensOfAll } from '../sheet/intervals.ts'
import type { State } from '../state.ts'
import type { Product } from './hold.ts'

/** What a coat opens: the figures of its product, from the sheet of that day. */
export function opensAt(state: State, { sheet, mixes }: Product, at: number): Opens | null {
  const saved = sheetAt(state, sheet, at)
  if (!saved) return null
  const options = mixes.map(({ activator, reducer }) =>
    chosenOptions(saved.sheet, activator ?? undefined, reducer ?? undefined),
  )
  return opensOfAll(saved.sheet, saved.version, options.length > 0 ? options : [[]])
}
