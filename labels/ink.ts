import { Resvg } from '@resvg/resvg-js'
import { advanceDots, inkDots } from './glyphs.ts'
import type { PictogramItem } from './layout.ts'
import { outlineOf } from './outlines.ts'
import { PICTOGRAM_PATHS, PICTOGRAM_UNITS } from './pictograms.ts'

/** Letters and pictures as dots. Each is drawn once in each size: a layout puts it on whole dots, where it looks the same. */

/** A piece of a drawing in gray, 0 black to 255 white, row by row. */
export type Ink = {
  readonly widthDots: number
  readonly heightDots: number
  /** From its upper left corner to its own origin. */
  readonly originX: number
  readonly originY: number
  readonly gray: Uint8Array
}

const kept = new Map<string, Ink | null>()

function keptAs(key: string, draw: () => Ink | null): Ink | null {
  const found = kept.get(key)
  if (found !== undefined) return found
  const drawn = draw()
  kept.set(key, drawn)
  return drawn
}

/** Round letters and accents reach a little over their advance. */
const OVERHANG = 0.15

/**
 * @param capDots the height of capitals
 * @returns null where the sign has no ink, as a space
 */
export const inkOfSign = (sign: string, capDots: number): Ink | null =>
  keptAs(`${capDots} ${sign}`, () => {
    const d = outlineOf(sign, capDots)
    if (d === '') return null
    const { above, below } = inkDots(sign, capDots)
    const side = Math.ceil(OVERHANG * capDots)
    const width = advanceDots(sign, capDots) + 2 * side
    const path = `<path transform="translate(${side} ${above})" d="${d}"/>`
    return drawn(path, { width, height: above + below, originX: side, originY: above })
  })

export const inkOfPictogram = ({ picture, sizeDots }: PictogramItem): Ink | null =>
  keptAs(`${picture} ${sizeDots}`, () => {
    const path = `<path fill-rule="evenodd" transform="scale(${sizeDots / PICTOGRAM_UNITS})" d="${PICTOGRAM_PATHS[picture]}"/>`
    return drawn(path, { width: sizeDots, height: sizeDots, originX: 0, originY: 0 })
  })

const RGBA = 4

function drawn(
  path: string,
  at: { width: number; height: number; originX: number; originY: number },
): Ink {
  const { width, height, originX, originY } = at
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="${width}" height="${height}" fill="#fff"/>${path}</svg>`
  const { pixels } = new Resvg(svg, { font: { loadSystemFonts: false } }).render()
  const gray = Uint8Array.from({ length: width * height }, (_, dot) => pixels[dot * RGBA] ?? 0)
  return { widthDots: width, heightDots: height, originX, originY, gray }
}
