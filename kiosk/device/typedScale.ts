import { readWeight } from './weight.ts'

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
