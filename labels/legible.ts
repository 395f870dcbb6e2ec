import { createRequire } from 'node:module'
import { isDrawable } from './glyphs.ts'

/**
 * Names in letters that the label font has. Others are written as they sound (any-ascii): a label in a foreign
 * script is read by whoever sprays from the cup, and a question mark says nothing to anybody. Not for the
 * kiosk, which shows every script itself: the table is half a megabyte.
 */

const require = createRequire(import.meta.url)
/** Loaded with the first sign that needs it: most shops never do. */
const inAscii = (sign: string): string =>
  (require('any-ascii') as { default: (text: string) => string }).default(sign)

let segmenter: Intl.Segmenter | null = null
/** Signs as they are seen: a letter with its marks, a flag, a face with its color of skin. Its tables come with the first. */
function signsOf(text: string): string[] {
  segmenter ??= new Intl.Segmenter('und', { granularity: 'grapheme' })
  return [...segmenter.segment(text)].map(({ segment }) => segment)
}

/**
 * @param text in any script
 * @returns the same with what the font lacks in plain letters; "?" where nothing at all of it can be written
 */
export function legible(text: string): string {
  const plain = text.normalize('NFC')
  // Upper-cased as it is printed: a small letter is drawn if its capital is.
  if ([...plain.toUpperCase()].every((sign) => isDrawable(sign) || /\s/.test(sign))) return plain
  const written = signsOf(plain).map(writtenAs).join('')
  const tidy = written.replace(/::/g, ': :').replace(/\s+/g, ' ').trim()
  return tidy === '' && plain.trim() !== '' ? '?' : tidy
}

const isDrawnAs = (text: string): boolean =>
  [...text.toUpperCase()].every((sign) => sign === ' ' || isDrawable(sign))

function writtenAs(segment: string): string {
  if (/^\s+$/u.test(segment)) return ' '
  if (isDrawnAs(segment)) return segment
  // What only shapes its neighbors, such as a joiner, is written as nothing; so is what nobody can spell.
  return [...segment]
    .map((sign) => (isDrawnAs(sign) ? sign : inAscii(sign).replaceAll('_', ' ')))
    .filter((spelt) => isDrawnAs(spelt) && spelt !== '?')
    .join('')
}
