/** A picture as a page of paper (ISO 32000-1). Pure. */

/** ISO 216 A4 in points, on its side. */
const [LONG, SHORT] = [842, 595]
const MARGIN = 28

type Picture = {
  /** Of a JPEG, whose own packing a PDF takes as it is (DCTDecode). */
  readonly jpeg: Uint8Array
  readonly widthPx: number
  readonly heightPx: number
}

const bytes = (text: string): Uint8Array =>
  Uint8Array.from(text, (sign) => sign.charCodeAt(0) & 0xff)

/** One page on its side where the picture is wider than high, the picture as large as its margins let it. */
export function picturePdf({ jpeg, widthPx, heightPx }: Picture): Uint8Array<ArrayBuffer> {
  const [width, height] = widthPx >= heightPx ? [LONG, SHORT] : [SHORT, LONG]
  const scale = Math.min((width - 2 * MARGIN) / widthPx, (height - 2 * MARGIN) / heightPx)
  const [wide, high] = [widthPx * scale, heightPx * scale]
  const at = `${wide.toFixed(2)} 0 0 ${high.toFixed(2)} ${((width - wide) / 2).toFixed(2)} ${(height - MARGIN - high).toFixed(2)}`
  const draw = `q ${at} cm /P Do Q`
  const image =
    `<< /Type /XObject /Subtype /Image /Width ${widthPx} /Height ${heightPx} /ColorSpace /DeviceRGB` +
    ` /BitsPerComponent 8 /Filter /DCTDecode /Length ${jpeg.length} >>\nstream\n`
  const objects: readonly (readonly Uint8Array[])[] = [
    [bytes('<< /Type /Catalog /Pages 2 0 R >>')],
    [bytes('<< /Type /Pages /Kids [3 0 R] /Count 1 >>')],
    [
      bytes(
        `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${width} ${height}] /Resources << /XObject << /P 5 0 R >> >> /Contents 4 0 R >>`,
      ),
    ],
    [bytes(`<< /Length ${draw.length} >>\nstream\n${draw}\nendstream`)],
    [bytes(image), jpeg, bytes('\nendstream')],
  ]
  const chunks: Uint8Array[] = [bytes('%PDF-1.4\n%\xb5\xb5\xb5\xb5\n')]
  let length = chunks[0]?.length ?? 0
  const starts: number[] = []
  const put = (chunk: Uint8Array) => {
    chunks.push(chunk)
    length += chunk.length
  }
  for (const [n, object] of objects.entries()) {
    starts.push(length)
    put(bytes(`${n + 1} 0 obj\n`))
    object.forEach(put)
    put(bytes('\nendobj\n'))
  }
  const rows = starts.map((start) => `${String(start).padStart(10, '0')} 00000 n \n`).join('')
  const size = objects.length + 1
  put(
    bytes(
      `xref\n0 ${size}\n0000000000 65535 f \n${rows}trailer\n<< /Size ${size} /Root 1 0 R >>\nstartxref\n${length}\n%%EOF\n`,
    ),
  )
  const file = new Uint8Array(length)
  let place = 0
  for (const chunk of chunks) {
    file.set(chunk, place)
    place += chunk.length
  }
  return file
}
