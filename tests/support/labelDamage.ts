import type { LabelLayout, SymbolItem } from '../../labels/layout.ts'
import { labelBitmap } from '../../labels/render.ts'
import { type Grey, greyOf, onCup, PIXEL_MM, type Random } from './labelImage.ts'

/** What happens to a code on paper, each alone: seeded pictures as a camera sees them. */

/**
 * `bend`: the diameter of the cup, mm. `tilt`: degrees, towards one of four sides. `blur`: out of focus, the disc of a point in modules.
 * `contrast`: between black and white, of all that there is. `blob`: a drop on the symbol, outside its finders,
 * as a part of its area.
 */
export type Damage = 'bend' | 'tilt' | 'blur' | 'contrast' | 'blob'
export const NOMINAL: Readonly<Record<Damage, number>> = {
  bend: 60,
  tilt: 15,
  blur: 1,
  contrast: 0.3,
  blob: 0.05,
}
export const DAMAGES = Object.keys(NOMINAL) as Damage[]
/** A flat sheet is on no cup. */
export const FLAT_DAMAGES = DAMAGES.filter((damage) => damage !== 'bend')

/** A code cut out of its label with what stands round it. Sizes in dots. */
export type Code = {
  readonly text: string
  readonly image: Grey
  readonly symbol: Symbol
  readonly dotMm: number
}
type Symbol = {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  readonly moduleDots: number
  readonly kind: 'qr' | 'datamatrix' | 'bars'
}

/** Of a module in a flat picture. */
const MODULE_PX = 6
/** The largest diameter that a picture calls flat. */
const FLAT_MM = 4_000
const ROUND_IT_MM = 2.5

const kindOf = (item: SymbolItem): Symbol['kind'] =>
  item.kind === 'bars' ? 'bars' : (item.symbology ?? 'qr')

/** @param which of a sheet's codes, from its first on */
export function codeOf(layout: LabelLayout, which = 0): Code {
  const items = layout.items.filter((one) => one.kind === 'qr' || one.kind === 'bars')
  const item = items[which]
  if (!item) throw new Error('a layout without its code')
  const { x, y, moduleDots } = item
  const width = item.modules * moduleDots
  const height = item.kind === 'bars' ? item.heightDots : width
  const dotMm = 25.4 / layout.dpi
  const round = Math.round(ROUND_IT_MM / dotMm)
  const [left, top] = [Math.max(0, x - round), Math.max(0, y - round)]
  const right = Math.min(layout.widthDots, x + width + round)
  const bottom = Math.min(layout.heightDots, y + height + round)
  const whole = greyOf(labelBitmap(layout))
  const data = new Uint8ClampedArray((right - left) * (bottom - top))
  for (let row = top; row < bottom; row += 1) {
    const from = row * whole.width
    data.set(whole.data.subarray(from + left, from + right), (row - top) * (right - left))
  }
  return {
    text: item.payload,
    image: { width: right - left, height: bottom - top, data },
    symbol: { x: x - left, y: y - top, width, height, moduleDots, kind: kindOf(item) },
    dotMm,
  }
}

/** One scan: half a second of a camera at six pictures a second, the hand moving a little. */
const PICTURES = 3

/** A code with one damage, as a camera that looks straight at it sees it, picture after picture. */
export function* damaged(
  given: Code,
  damage: Damage,
  value: number,
  random: Random,
): Generator<Grey> {
  const spoiled = damage === 'blob' ? { ...given, image: dropped(given, value, random) } : given
  // Tilted towards one of four sides.
  const code = damage === 'tilt' && random() < 0.5 ? quarterTurned(spoiled) : spoiled
  const tilt = damage === 'tilt' ? (random() < 0.5 ? value : -value) : 0
  const black = 255 * (1 - value) * random()
  for (let picture = 0; picture < PICTURES; picture += 1) {
    const image = seen(code, random, { tilt, ...(damage === 'bend' ? { cupMm: value } : {}) })
    if (damage === 'blur') yield defocused(image, value * MODULE_PX)
    else if (damage === 'contrast') yield faded(image, value, black)
    else yield image
  }
}

function seen(
  { image, symbol, dotMm: trueMm }: Code,
  random: Random,
  { cupMm = FLAT_MM, tilt = 0 }: { cupMm?: number; tilt?: number } = {},
): Grey {
  // Flat, from as far as makes a module so many pixels: larger ones are there to be read from further away.
  const dotMm = cupMm === FLAT_MM ? (MODULE_PX * PIXEL_MM) / symbol.moduleDots : trueMm
  const beside = () => 2 * random() - 1
  return onCup(image, {
    ...{ dotMm, cupMm, tilt, turn: 0, roll: 2 * beside() },
    centre: {
      x: symbol.x + symbol.width / 2 + beside(),
      y: symbol.y + symbol.height / 2 + beside(),
    },
    widthMm: image.width * dotMm,
    heightMm: image.height * dotMm,
  })
}

/** So that a tilt is about the other axis. */
function quarterTurned(code: Code): Code {
  const { image, symbol } = code
  const { width, height } = image
  const data = new Uint8ClampedArray(image.data.length)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1)
      data[x * height + (height - 1 - y)] = image.data[y * width + x] ?? 255
  return {
    ...code,
    image: { width: height, height: width, data },
    symbol: {
      ...symbol,
      ...{ x: height - symbol.y - symbol.height, y: symbol.x },
      ...{ width: symbol.height, height: symbol.width },
    },
  }
}

/** Out of focus: each point becomes a disc, `diameterPx` wide, as behind a round lens. */
function defocused({ width, height, data }: Grey, diameterPx: number): Grey {
  const reach = Math.ceil(diameterPx / 2)
  const disc: [number, number][] = []
  for (let dy = -reach; dy <= reach; dy += 1)
    for (let dx = -reach; dx <= reach; dx += 1)
      if (Math.hypot(dx, dy) <= diameterPx / 2) disc.push([dx, dy])
  const out = new Uint8ClampedArray(data.length)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      let sum = 0
      for (const [dx, dy] of disc) {
        const isIn = x + dx >= 0 && x + dx < width && y + dy >= 0 && y + dy < height
        sum += isIn ? (data[(y + dy) * width + x + dx] ?? 255) : 255
      }
      out[y * width + x] = sum / disc.length
    }
  return { width, height, data: out }
}

/** A dark room, a faded print or a yellowed paper: somewhere between black and white. */
function faded(image: Grey, contrast: number, black: number): Grey {
  const data = image.data.map((gray) => black + contrast * gray)
  return { ...image, data: new Uint8ClampedArray(data) }
}

/** Modules of a QR's finder with its white, and of the first and last pattern of bars. */
const QR_FINDER = 8
const BARS_FINDER = 13

function dropped({ image, symbol }: Code, share: number, random: Random): Grey {
  const { x, y, width, height, moduleDots, kind } = symbol
  const radius = Math.sqrt((share * width * height) / Math.PI)
  const edge = radius + { qr: 0, datamatrix: 1, bars: 0 }[kind] * moduleDots
  const ends = kind === 'bars' ? radius + BARS_FINDER * moduleDots : edge
  const corner = radius + QR_FINDER * moduleDots
  const isOnFinder = (cx: number, cy: number) => {
    const [isLeft, isRight] = [cx < corner, cx > width - corner]
    const [isTop, isBottom] = [cy < corner, cy > height - corner]
    return kind === 'qr' && ((isLeft && isTop) || (isRight && isTop) || (isLeft && isBottom))
  }
  const place = (from: number, length: number) => from + random() * Math.max(0, length - 2 * from)
  let [cx, cy] = [place(ends, width), place(edge, height)]
  while (isOnFinder(cx, cy)) [cx, cy] = [place(ends, width), place(edge, height)]
  const gray = random() < 0.5 ? 0 : 255
  const data = new Uint8ClampedArray(image.data)
  for (let row = 0; row < height; row += 1)
    for (let column = 0; column < width; column += 1)
      if (Math.hypot(column + 0.5 - cx, row + 0.5 - cy) <= radius)
        data[(y + row) * image.width + x + column] = gray
  return { ...image, data }
}
