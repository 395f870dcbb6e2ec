import { crc32, deflateSync } from 'node:zlib'

/** A label as a printer takes it: one bit a dot, eight in a byte, rows padded, 1 is black. */
export type Bitmap = {
  readonly widthDots: number
  readonly heightDots: number
  readonly dpi: number
  readonly rowBytes: number
  readonly bits: Uint8Array
}

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]
const METRE = 1

/** Written here because encoders on npm keep neither one bit a dot nor the resolution (W3C PNG, 11.2, 11.3). */
export function bitmapPng({ widthDots, heightDots, dpi, rowBytes, bits }: Bitmap): Uint8Array {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(widthDots, 0)
  header.writeUInt32BE(heightDots, 4)
  header[8] = 1
  const resolution = Buffer.alloc(9)
  const dotsPerMetre = Math.round(dpi / 0.0254)
  resolution.writeUInt32BE(dotsPerMetre, 0)
  resolution.writeUInt32BE(dotsPerMetre, 4)
  resolution[8] = METRE
  const rows = Buffer.alloc((rowBytes + 1) * heightDots)
  for (let y = 0; y < heightDots; y += 1) {
    for (let i = 0; i < rowBytes; i += 1) {
      // In a grayscale PNG 1 is white.
      rows[y * (rowBytes + 1) + 1 + i] = ~(bits[y * rowBytes + i] ?? 0) & 0xff
    }
  }
  return Buffer.concat([
    Buffer.from(SIGNATURE),
    chunk('IHDR', header),
    chunk('pHYs', resolution),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function chunk(type: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data])
  const length = Buffer.alloc(4)
  length.writeUInt32BE(data.length)
  const crc = Buffer.alloc(4)
  crc.writeUInt32BE(crc32(named))
  return Buffer.concat([length, named, crc])
}
