import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { type Font, type PathCommand, parse } from 'opentype.js'
import { CAP_UNITS } from './glyphs.ts'

/** Letters as outlines of the font that is shipped with us: the same on every machine, without an installed font. */

const require = createRequire(import.meta.url)
/** Latin first; the other file has the rest of Latin Extended-A. SIL Open Font License. */
const FONT_FILES = ['latin', 'latin-ext'].map(
  (part) => `@fontsource/roboto-condensed/files/roboto-condensed-${part}-700-normal.woff`,
)
let fonts: readonly Font[] | undefined

function labelFonts(): readonly Font[] {
  fonts ??= FONT_FILES.map((name) => {
    const bytes = readFileSync(require.resolve(name))
    return parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength))
  })
  return fonts
}

const outlines = new Map<string, string>()

/**
 * A letter's outline from its own origin, as the data of an SVG path. Drawing a label again costs no font work.
 * @param capDots the height of capitals
 */
export function outlineOf(sign: string, capDots: number): string {
  const key = `${capDots} ${sign}`
  const kept = outlines.get(key)
  if (kept !== undefined) return kept
  const font = labelFonts().find((one) => one.charToGlyphIndex(sign) > 0) ?? labelFonts()[0]
  const size = font ? (capDots / CAP_UNITS) * font.unitsPerEm : 0
  const path = pathData(font?.charToGlyph(sign).getPath(0, 0, size).commands ?? [])
  outlines.set(key, path)
  return path
}

/** Written here: the library's own text (opentype.js 2.0.0) drops parts of some outlines, such as a small 2. */
const pathData = (commands: readonly PathCommand[]): string => commands.map(commandData).join('')

const at = (...numbers: readonly number[]) => numbers.map((n) => n.toFixed(3)).join(' ')

function commandData(command: PathCommand): string {
  switch (command.type) {
    case 'M':
    case 'L':
      return command.type + at(command.x, command.y)
    case 'Q':
      return `Q${at(command.x1, command.y1, command.x, command.y)}`
    case 'C':
      return `C${at(command.x1, command.y1, command.x2, command.y2, command.x, command.y)}`
    case 'Z':
      return 'Z'
  }
}
