import { deflateSync } from 'node:zlib'

/** A stream object, packed. @param data its bytes; a text is written as UTF-8 */
export function pdfStream(keys: string, data: Buffer | string): Buffer {
  const packed = deflateSync(data)
  const head = `<< ${keys} /Filter /FlateDecode /Length ${packed.length} >>\nstream\n`
  return Buffer.concat([Buffer.from(head, 'latin1'), packed, Buffer.from('\nendstream', 'latin1')])
}

/** Header, numbered objects, where each begins, and the trailer (ISO 32000-1 section 7.5). */
export function pdfFile(objects: readonly Buffer[]): Uint8Array {
  const chunks: Buffer[] = [Buffer.from('%PDF-1.4\n%\xb5\xb5\xb5\xb5\n', 'latin1')]
  let at = chunks[0]?.length ?? 0
  const starts = objects.map((object, n) => {
    const start = at
    const whole = Buffer.concat([
      Buffer.from(`${n + 1} 0 obj\n`, 'latin1'),
      object,
      Buffer.from('\nendobj\n', 'latin1'),
    ])
    chunks.push(whole)
    at += whole.length
    return start
  })
  const rows = starts.map((start) => `${String(start).padStart(10, '0')} 00000 n \n`).join('')
  const size = objects.length + 1
  const end = `xref\n0 ${size}\n0000000000 65535 f \n${rows}trailer\n<< /Size ${size} /Root 1 0 R >>\nstartxref\n${at}\n%%EOF\n`
  return Buffer.concat([...chunks, Buffer.from(end, 'latin1')])
}
