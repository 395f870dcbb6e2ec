const ASCII = Array.from({ length: 0x7f - 0x20 }, (_, i) => String.fromCharCode(0x20 + i)).join('')

/**
 * The characters of English and Spanish, with the signs of figures: what a first screen is drawn with.
 * Others come with a second file, the first time that one is shown (fonts.css).
 */
export const CORE = `${ASCII}\u00a0ÁÉÍÓÚÜÑáéíóúüñ¿¡«»°²³·×±–—‘’“”…−`

/**
 * What runs and is counted, and the ids of cups: figures, capitals, the signs between them, and the small letters of
 * "min", "h", "d", "s", "am" and "pm", and of "now". Other words in these letters are on other screens than the Wall.
 */
export const FIGURES = `0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ adhimnoprsw\u00a0.,:;+−–-·/%()×°`

/** As a style sheet names them. */
export function unicodeRange(characters: string): string {
  const codes = [...new Set(characters)].map((c) => c.codePointAt(0) ?? 0).sort((a, b) => a - b)
  const spans: [number, number][] = []
  for (const code of codes) {
    const last = spans.at(-1)
    if (last && code === last[1] + 1) last[1] = code
    else spans.push([code, code])
  }
  const hex = (code: number) => code.toString(16).padStart(4, '0')
  return spans
    .map(([from, to]) => (from === to ? `U+${hex(from)}` : `U+${hex(from)}-${hex(to)}`))
    .join(', ')
}
