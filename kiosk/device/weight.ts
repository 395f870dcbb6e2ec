import { readNumber } from '../units/measure.ts'

/** What a scale shows, however it comes: typed by hand, typed by the scale, or on a line. Pure. */

/** A bench scale weighs some tens of kilograms at most; more is a bar code or a typing error. */
const MOST_G = 50_000
const G_PER_KG = 1000

type Weight =
  | { readonly kind: 'weight'; readonly g: number }
  | { readonly kind: 'noNumber' }
  | { readonly kind: 'tooMuch' }

// Nothing is read out of the middle of a number: of 1,234.5 the rest would be another weight.
const FORM = /(?<![\d.,])([+-]?)\s*(\d+(?:[.,]\d+)?)\s*(kg|g)?(?![\d.,])/i

/**
 * Reads one reading: "212.4", "+00212,4 g", "S S  0.2124 kg". A unit other than g and kg is not read.
 * @returns grams
 */
export function readWeight(text: string): Weight {
  const found = FORM.exec(text)
  const value = found && readNumber(`${found[1]}${found[2]}`)
  if (!found || value === null || /\d\s*(?:oz|lb|ml|ct)\b/i.test(text)) return { kind: 'noNumber' }
  const g = found[3]?.toLowerCase() === 'kg' ? value * G_PER_KG : value
  return Math.abs(g) > MOST_G ? { kind: 'tooMuch' } : { kind: 'weight', g: Number(g.toFixed(4)) }
}

/** A scale that types sends its keys as fast as a hand scanner does. */
const READING = /^[+-]?\d{1,7}(?:[.,]\d+)?\s*(?:g|kg)?$/i

/**
 * Gives a burst of keys to the field that waits for a scale's reading, if it is one.
 * @param active what has the focus
 * @returns whether the burst was a weight: a label is not
 */
export function takesReading(active: Element | null, text: string): boolean {
  if (!(active instanceof HTMLInputElement) || active.dataset.scale === undefined) return false
  if (!READING.test(text.trim()) || readWeight(text).kind !== 'weight') return false
  const { selectionStart, selectionEnd, value } = active
  // As keys would: a scale that paused after its first digit has that one in the field already.
  active.setRangeText(
    text.trim(),
    selectionStart ?? value.length,
    selectionEnd ?? value.length,
    'end',
  )
  active.dispatchEvent(new InputEvent('input', { bubbles: true }))
  active.form?.requestSubmit()
  return true
}
