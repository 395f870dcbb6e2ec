import type { Bitmap } from '../../labels/render.ts'

/** A picture in gray, 0 black to 255 white, row by row. */
export type Grey = {
  readonly width: number
  readonly height: number
  readonly data: Uint8ClampedArray
}

export type Random = () => number

/** Mulberry32: a public-domain generator of 32 bit, so that a printed seed brings a picture back. */
export function randomOf(seed: number): Random {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
}

export const isBlack = (bitmap: Bitmap, x: number, y: number): boolean =>
  ((bitmap.bits[y * bitmap.rowBytes + (x >> 3)] ?? 0) & (0x80 >> (x & 7))) !== 0

export function greyOf(bitmap: Bitmap): Grey {
  const { widthDots: width, heightDots: height } = bitmap
  const data = new Uint8ClampedArray(width * height)
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) data[y * width + x] = isBlack(bitmap, x, y) ? 0 : 255
  }
  return { width, height, data }
}

/** Nearest dot; white outside the label. */
function sample({ width, height, data }: Grey, x: number, y: number): number {
  const i = Math.floor(x)
  const j = Math.floor(y)
  return i < 0 || j < 0 || i >= width || j >= height ? 255 : (data[j * width + i] ?? 255)
}

/** A picture drawn by asking where each of its points came from, four points a pixel. */
function drawn(width: number, height: number, at: (x: number, y: number) => number): Grey {
  const data = new Uint8ClampedArray(width * height)
  const steps = [0.25, 0.75]
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      let sum = 0
      for (const dy of steps) for (const dx of steps) sum += at(x + dx, y + dy)
      data[y * width + x] = sum / 4
    }
  }
  return { width, height, data }
}

const radians = (degrees: number) => (degrees * Math.PI) / 180

/** Turned about its middle, in a square that holds it whole. */
export function turned(image: Grey, degrees: number): Grey {
  const side = Math.ceil(Math.hypot(image.width, image.height))
  const cos = Math.cos(radians(degrees))
  const sin = Math.sin(radians(degrees))
  return drawn(side, side, (x, y) => {
    const dx = x - side / 2
    const dy = y - side / 2
    const fromX = dx * cos + dy * sin + image.width / 2
    const fromY = dy * cos - dx * sin + image.height / 2
    return sample(image, fromX, fromY)
  })
}

/** Out of focus: each pixel becomes the mean of the square around it, `widthPx` wide. */
export function blurred(image: Grey, widthPx: number): Grey {
  return boxed(boxed(image, widthPx, 1, image.width), widthPx, image.width, image.height)
}

/** The mean along one axis, with the share of the pixels at both ends that the width takes in. */
function boxed(image: Grey, widthPx: number, step: number, length: number): Grey {
  const data = new Uint8ClampedArray(image.data.length)
  const reach = (widthPx - 1) / 2
  const whole = Math.floor(reach)
  for (let i = 0; i < data.length; i += 1) {
    const place = Math.floor(i / step) % length
    let sum = 0
    for (let k = -whole - 1; k <= whole + 1; k += 1) {
      const weight = Math.abs(k) <= whole ? 1 : reach - whole
      const isIn = place + k >= 0 && place + k < length
      sum += weight * (isIn ? (image.data[i + k * step] ?? 255) : 255)
    }
    data[i] = sum / widthPx
  }
  return { ...image, data }
}

type Symbol = {
  readonly x: number
  readonly y: number
  readonly modules: number
  readonly moduleDots: number
}

/** The symbol with a share of its dots the other way round: overspray, scratches, a worn printhead. */
export function spoiled(image: Grey, symbol: Symbol, share: number, random: Random): Grey {
  const data = new Uint8ClampedArray(image.data)
  const side = symbol.modules * symbol.moduleDots
  for (let y = symbol.y; y < symbol.y + side; y += 1) {
    for (let x = symbol.x; x < symbol.x + side; x += 1) {
      const dot = y * image.width + x
      if (random() < share) data[dot] = 255 - (data[dot] ?? 0)
    }
  }
  return { ...image, data }
}

/** Modules of a finder pattern with the white round it; three stand in the corners. */
const CORNER_MODULES = 8

/** One round drop of paint on the symbol, dark or light, clear of its three corners. */
export function dropped(image: Grey, symbol: Symbol, share: number, random: Random): Grey {
  const side = symbol.modules * symbol.moduleDots
  const corner = CORNER_MODULES * symbol.moduleDots
  const radius = Math.sqrt((share * side ** 2) / Math.PI)
  const place = () => radius + random() * (side - 2 * radius)
  let [cx, cy] = [place(), place()]
  const isNear = (at: number) => at < corner + radius
  const isFar = (at: number) => at > side - corner - radius
  while ((isNear(cx) && isNear(cy)) || (isFar(cx) && isNear(cy)) || (isNear(cx) && isFar(cy))) {
    cx = place()
    cy = place()
  }
  const colour = random() < 0.5 ? 0 : 255
  const data = new Uint8ClampedArray(image.data)
  for (let y = 0; y < side; y += 1) {
    for (let x = 0; x < side; x += 1) {
      if (Math.hypot(x + 0.5 - cx, y + 0.5 - cy) > radius) continue
      data[(symbol.y + y) * image.width + symbol.x + x] = colour
    }
  }
  return { ...image, data }
}

export type View = {
  readonly dotMm: number
  /** The middle of the code, which the camera is aimed at. */
  readonly centre: { readonly x: number; readonly y: number }
  readonly cupMm: number
  /** Degrees: about the cup's axis, towards the eye, and in the picture. */
  readonly turn: number
  readonly tilt: number
  readonly roll: number
  /** What the picture shows; a square around a label's code without it. */
  readonly widthMm?: number
  readonly heightMm?: number
}

/** How far a camera or scanner is held, and how fine it sees: figures of the test, no standard's. */
const EYE_MM = 180
export const PIXEL_MM = 0.08
const PICTURE_MM = 24

/** A label on a round cup as a camera sees it: each pixel's ray is followed to the cylinder. */
export function onCup(image: Grey, view: View): Grey {
  const wide = Math.round((view.widthMm ?? PICTURE_MM) / PIXEL_MM)
  const high = Math.round((view.heightMm ?? PICTURE_MM) / PIXEL_MM)
  const radius = view.cupMm / 2
  const [st, ct] = [Math.sin(radians(view.tilt)), Math.cos(radians(view.tilt))]
  const [sr, cr] = [Math.sin(radians(view.roll)), Math.cos(radians(view.roll))]
  // Camera to cup: undo the roll about z, then the tilt about x. And back.
  const toCup = (x: number, y: number, z: number) => {
    const ux = x * cr + y * sr
    const uy = y * cr - x * sr
    return { x: ux, y: uy * ct + z * st, z: z * ct - uy * st }
  }
  const fromCup = (x: number, y: number, z: number) => {
    const uy = y * ct - z * st
    return { x: x * cr - uy * sr, y: uy * cr + x * sr, z: z * ct + y * st }
  }
  // The hand aims: the eye stands straight before the code's middle, wherever that has moved.
  const turn = radians(view.turn)
  const aim = fromCup(radius * Math.sin(turn), 0, radius * Math.cos(turn))
  const eye = toCup(aim.x, aim.y, aim.z + EYE_MM)
  return drawn(wide, high, (px, py) => {
    const to = toCup(aim.x + (px - wide / 2) * PIXEL_MM, aim.y + (py - high / 2) * PIXEL_MM, aim.z)
    const ray = { x: to.x - eye.x, y: to.y - eye.y, z: to.z - eye.z }
    const a = ray.x ** 2 + ray.z ** 2
    const b = eye.x * ray.x + eye.z * ray.z
    const c = eye.x ** 2 + eye.z ** 2 - radius ** 2
    const inside = b * b - a * c
    if (inside < 0) return 255
    const t = (-b - Math.sqrt(inside)) / a
    const angle = Math.atan2(eye.x + t * ray.x, eye.z + t * ray.z) - turn
    const alongMm = eye.y + t * ray.y
    return sample(
      image,
      view.centre.x + (angle * radius) / view.dotMm,
      view.centre.y + alongMm / view.dotMm,
    )
  })
}
