import type { Bitmap } from '../../labels/png.ts'

/**
 * A bitmap as PWG Raster (PWG 5102.4-2012): what every IPP Everywhere printer takes. The header's
 * fields and their places are those of its table 2; what is not set is 0 or empty.
 */

const SYNC = 'RaS2'
const HEADER_BYTES = 1_796
const RUN_MOST = 128
const LINES_MOST = 256

/** Where a field of the header begins, in bytes (PWG 5102.4 section 4.3). */
const AT = {
  cupsPwgRaster: 0,
  mediaType: 128,
  resolution: 276,
  numCopies: 340,
  pageSizePt: 352,
  width: 372,
  height: 376,
  bitsPerColor: 384,
  bitsPerPixel: 388,
  bytesPerLine: 392,
  colorOrder: 396,
  colorSpace: 400,
  numColors: 420,
  totalPageCount: 452,
  crossFeedTransform: 456,
  feedTransform: 460,
  imageBox: 464,
  printQuality: 484,
  pageSizeName: 1_732,
} as const

/** One bit a dot, 1 is black; or eight, 0 is black. */
export const RASTER_TYPES = {
  black_1: { space: 3, bits: 1 },
  sgray_8: { space: 18, bits: 8 },
} as const
export type RasterType = keyof typeof RASTER_TYPES

const HIGH_QUALITY = 5

export type RasterPage = {
  readonly bitmap: Bitmap
  readonly type: RasterType
  /** The printer's dots for each of the bitmap, in both directions: a whole number, so that a module stays whole. */
  readonly times: number
  /** The PWG name of the paper, such as "om_label_57x32mm"; empty where it has none. */
  readonly mediaName: string
}

/** @returns a document of these pages */
export const pwgRaster = (pages: readonly RasterPage[]): Uint8Array =>
  Buffer.concat([
    Buffer.from(SYNC, 'latin1'),
    ...pages.flatMap((page) => [headerOf(page, pages.length), ...packedLines(page)]),
  ])

function headerOf({ bitmap, times, type, mediaName }: RasterPage, pageCount: number): Buffer {
  const header = Buffer.alloc(HEADER_BYTES)
  const put = (at: number, ...values: readonly number[]) => {
    for (const [n, value] of values.entries()) header.writeUInt32BE(value, at + 4 * n)
  }
  const { space, bits } = RASTER_TYPES[type]
  const dpi = bitmap.dpi * times
  const [width, height] = [bitmap.widthDots * times, bitmap.heightDots * times]
  header.write('PwgRaster', AT.cupsPwgRaster, 'latin1')
  header.write('labels', AT.mediaType, 'latin1')
  put(AT.resolution, dpi, dpi)
  put(AT.numCopies, 1)
  put(AT.pageSizePt, Math.round((width * 72) / dpi), Math.round((height * 72) / dpi))
  put(AT.width, width)
  put(AT.height, height)
  put(AT.bitsPerColor, bits)
  put(AT.bitsPerPixel, bits)
  put(AT.bytesPerLine, Math.ceil((width * bits) / 8))
  put(AT.colorOrder, 0)
  put(AT.colorSpace, space)
  put(AT.numColors, 1)
  put(AT.totalPageCount, pageCount)
  put(AT.crossFeedTransform, 1)
  put(AT.feedTransform, 1)
  put(AT.imageBox, 0, 0, width, height)
  put(AT.printQuality, HIGH_QUALITY)
  header.write(mediaName.slice(0, 63), AT.pageSizeName, 'latin1')
  return header
}

/** Lines that are the same are said once with their count, then packed in runs (section 4.4). */
function packedLines({ bitmap, type, times }: RasterPage): Uint8Array[] {
  const out: Uint8Array[] = []
  let last: Uint8Array | null = null
  let count = 0
  const flush = () => {
    for (; last !== null && count > 0; count -= LINES_MOST) {
      out.push(Uint8Array.of(Math.min(count, LINES_MOST) - 1), packed(last))
    }
    count = 0
  }
  for (let y = 0; y < bitmap.heightDots; y += 1) {
    const line = lineOf(bitmap, y, type, times)
    if (last === null || Buffer.compare(last, line) !== 0) {
      flush()
      last = line
    }
    count += times
  }
  flush()
  return out
}

function lineOf(bitmap: Bitmap, y: number, type: RasterType, times: number): Uint8Array {
  const row = bitmap.bits.subarray(y * bitmap.rowBytes, (y + 1) * bitmap.rowBytes)
  if (type === 'black_1' && times === 1) return row
  const width = bitmap.widthDots * times
  const isBlack = (x: number) => {
    const dot = Math.floor(x / times)
    return ((row[dot >> 3] ?? 0) & (0x80 >> (dot & 7))) !== 0
  }
  if (type === 'sgray_8')
    return Uint8Array.from({ length: width }, (_, x) => (isBlack(x) ? 0 : 255))
  const line = new Uint8Array(Math.ceil(width / 8))
  for (let x = 0; x < width; x += 1) {
    if (isBlack(x)) line[x >> 3] = (line[x >> 3] ?? 0) | (0x80 >> (x & 7))
  }
  return line
}

/** A byte n from 0 repeats the next one n + 1 times; from 129 on, 257 - n bytes follow as they are. */
function packed(line: Uint8Array): Uint8Array {
  const out: number[] = []
  const runAt = (from: number) => {
    let to = from + 1
    while (to < line.length && to - from < RUN_MOST && line[to] === line[from]) to += 1
    return to - from
  }
  for (let at = 0; at < line.length; ) {
    const run = runAt(at)
    if (run > 1 || at === line.length - 1) {
      out.push(run - 1, line[at] ?? 0)
      at += run
      continue
    }
    let to = at + 1
    while (to < line.length && to - at < RUN_MOST && runAt(to) < 2) to += 1
    // One byte alone is a run of one: 257 - 1 has no place in a byte.
    if (to - at === 1) out.push(0, line[at] ?? 0)
    else out.push(257 - (to - at), ...line.subarray(at, to))
    at = to
  }
  return Uint8Array.from(out)
}
