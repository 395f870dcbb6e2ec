import type { Bitmap } from '../../labels/render.ts'

/** A film for Chromium's fake camera: one still picture of a label, in YUV4MPEG2 with 4:2:0 colour. */

const WIDTH = 640
const HEIGHT = 480
const WHITE = 235
const BLACK = 16
/** No colour. */
const GREY = 128

/** @param label drawn in its own dots in the middle of the picture; null for an empty wall */
export function filmOf(label: Bitmap | null): Uint8Array {
  const luma = new Uint8Array(WIDTH * HEIGHT).fill(WHITE)
  if (label) {
    const left = Math.floor((WIDTH - label.widthDots) / 2)
    const top = Math.floor((HEIGHT - label.heightDots) / 2)
    for (let y = 0; y < label.heightDots; y += 1)
      for (let x = 0; x < label.widthDots; x += 1)
        if (isBlack(label, x, y)) luma[(top + y) * WIDTH + left + x] = BLACK
  }
  const chroma = new Uint8Array((WIDTH * HEIGHT) / 2).fill(GREY)
  const text = (words: string) => new TextEncoder().encode(words)
  const parts = [text(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`)]
  for (let frame = 0; frame < 2; frame += 1) parts.push(text('FRAME\n'), luma, chroma)
  return new Uint8Array(Buffer.concat(parts))
}

const isBlack = ({ bits, rowBytes }: Bitmap, x: number, y: number): boolean =>
  ((bits[y * rowBytes + (x >> 3)] ?? 0) & (0x80 >> (x & 7))) !== 0
