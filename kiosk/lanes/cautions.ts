import type { HazardCode } from '../../labels/code.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import type { Words } from '../words/en.ts'
import { comingOf } from './coming.ts'
import type { Lane } from './lanes.ts'

/** What hurts, where the work is: the cautions of a mix, of a start, of heat and of sanding dust. Pure. */

/** Each has its sentence in the words. */
export type Caution = keyof Words['cautions'] | 'sealed'

const FLAME = /0?2$|flam/i

/**
 * Hazards that nobody typed in are treated as danger: every caution is shown.
 * @param sheet undefined where it is not known
 */
export function cautionsFor(
  sheet: Sheet | undefined,
  isActivated: boolean,
): { readonly isMissing: boolean; readonly names: readonly Caution[] } {
  const hazards = sheet?.hazards
  const isMissing = hazards === undefined
  const hasIsocyanate = isMissing || hazards.isocyanate
  const hasSolvent =
    isMissing ||
    sheet?.medium === 'solvent' ||
    hazards.pictograms.some((pictogram) => FLAME.test(pictogram))
  return {
    isMissing,
    names: [
      ...(sheet?.sample ? (['sample'] as const) : []),
      ...(hasIsocyanate ? (['isocyanate'] as const) : []),
      ...(hasSolvent ? (['solvent'] as const) : []),
      ...(isActivated || isMissing ? (['sealed'] as const) : []),
      'first',
    ],
  }
}

const isDusty = ({ stage, waits }: Lane): boolean =>
  stage === 'sand' || stage === 'prep' || stage === 'polish' || waits.for === 'abrade'

/** What the work that is due on some lanes calls for, each caution once. @param now kiosk time, UTC ms */
export function cautionsOfWork(state: State, lanes: readonly Lane[], now: number): Caution[] {
  const names = new Set<Caution>()
  for (const lane of lanes) {
    if (lane.stage === 'cure') names.add('bake')
    if (isDusty(lane)) names.add('dust')
    // Nothing is sprayed any more on what is looked over and passed.
    const { sheet: id } = comingOf(lane)
    if (id === null || lane.stage === 'cure' || lane.waits.for === 'pass') continue
    const sheet = sheetAt(state, id, now)?.sheet
    // What is left in the cup is said where the cup is.
    for (const name of cautionsFor(sheet, false).names) if (name !== 'sealed') names.add(name)
  }
  // That the sheets come first is said last.
  const isFirstSaid = names.delete('first')
  return [...names, ...(isFirstSaid ? (['first'] as const) : [])]
}

/** What a label says of a cup that is not known here: hazards that nobody typed in are danger. */
export function cautionsOnLabel({ signal, isocyanate, pictograms }: HazardCode): Caution[] {
  const isMissing = signal === 'missing'
  return [
    ...(isMissing || isocyanate ? (['isocyanate'] as const) : []),
    ...(isMissing || pictograms.includes('flame') ? (['solvent'] as const) : []),
    'sealed',
    'first',
  ]
}
