import type { Sheet } from '../machines/sheet/schema.ts'
import type { HazardCode, Pictogram, Signal } from './payload.ts'

/** What a label says of the hazards of a mix. */
export type Hazard = HazardCode & { readonly words: readonly string[] }

const MISSING: Hazard = { signal: 'missing', isocyanate: false, pictograms: [], words: [] }

/** A sheet's own names for pictograms vary: the GHS number, or the thing that is drawn. */
const PICTURES: readonly (readonly [RegExp, Pictogram])[] = [
  [/0?2$|flam/i, 'flame'],
  [/0?7$|exclam|irritant/i, 'exclamation'],
  [/0?8$|health/i, 'healthHazard'],
]
const pictureOf = (name: string) => PICTURES.find(([form]) => form.test(name.trim()))?.[1]

/** The GHS has two signal words; where a sheet has any other, the label says the graver one. */
function signalOf(word: string): Signal {
  const plain = word.trim().toLowerCase()
  if (/^(warning|atenci[oó]n)$/.test(plain)) return 'warning'
  return /^(none|no|-)$/.test(plain) ? 'none' : 'danger'
}

/**
 * A sheet's hazards as a label can print them. Pictograms that a label cannot draw become words, so
 * that none is lost.
 * @param hazards of the sheet's version that was mixed; undefined where nobody entered them
 */
export function hazardOf(hazards: Sheet['hazards']): Hazard {
  if (!hazards) return MISSING
  const words = typeof hazards.words === 'string' ? [hazards.words] : hazards.words
  return {
    signal: signalOf(hazards.signal),
    isocyanate: hazards.isocyanate,
    pictograms: hazards.pictograms.flatMap((name) => pictureOf(name) ?? []),
    words: [...hazards.pictograms.filter((name) => !pictureOf(name)), ...words],
  }
}
