/**
 * Reads a PWG Raster document back, by PWG 5102.4-2012 alone. Each page as 1 for black, row by row.
 * @throws Error for what a printer would not take
 */
export type PwgPage = {
  readonly width: number
  readonly height: number
  readonly dpi: number
  readonly bits: number
  readonly colorSpace: number
  readonly mediaName: string
  readonly black: Uint8Array
}

const HEADER = 1_796

export function pwgPages(document: Uint8Array): PwgPage[] {
  const bytes = Buffer.from(document)
  if (bytes.toString('latin1', 0, 4) !== 'RaS2') throw new Error('no synchronization word')
  const pages: PwgPage[] = []
  for (let at = 4; at < bytes.length; ) {
    const header = bytes.subarray(at, at + HEADER)
    if (header.toString('latin1', 0, 10) !== 'PwgRaster\0') throw new Error('no PwgRaster')
    const n = (from: number) => header.readUInt32BE(from)
    const [width, height, bits, lineBytes] = [n(372), n(376), n(388), n(392)]
    if (n(276) !== n(280) || n(384) !== bits || n(420) !== 1) throw new Error('not as one color')
    const lines: Buffer[] = []
    at += HEADER
    while (lines.length < height) {
      const repeats = (bytes[at] ?? 0) + 1
      const { line, end } = unpacked(bytes, at + 1, lineBytes)
      for (let k = 0; k < repeats; k += 1) lines.push(line)
      at = end
    }
    if (lines.length !== height) throw new Error(`${lines.length} lines of ${height}`)
    const isBlack = (line: Buffer, x: number) =>
      bits === 1 ? ((line[x >> 3] ?? 0) >> (7 - (x & 7))) & 1 : (line[x] ?? 255) < 128 ? 1 : 0
    const black = new Uint8Array(width * height)
    for (const [y, line] of lines.entries())
      for (let x = 0; x < width; x += 1) black[y * width + x] = isBlack(line, x)
    const mediaName = header.toString('latin1', 1_732, 1_796).replace(/\0.*$/, '')
    pages.push({ width, height, dpi: n(276), bits, colorSpace: n(400), mediaName, black })
  }
  return pages
}

function unpacked(bytes: Buffer, from: number, length: number) {
  const line = Buffer.alloc(length)
  let at = from
  for (let x = 0; x < length; ) {
    const code = bytes[at] ?? 0
    if (code === 128) throw new Error('a code that says nothing')
    const count = code < 128 ? code + 1 : 257 - code
    if (x + count > length) throw new Error('a run beyond the line')
    if (code < 128) line.fill(bytes[at + 1] ?? 0, x, x + count)
    else bytes.copy(line, x, at + 1, at + 1 + count)
    at += code < 128 ? 2 : 1 + count
    x += count
  }
  return { line, end: at }
}
