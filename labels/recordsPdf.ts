import type { RecordSection } from '../machines/records/table.ts'
import { pdfFile, pdfStream } from './pdfFile.ts'

/**
 * Records on paper (ISO 32000-1): lines of Courier, which every reader has, so that a text can be searched and
 * copied, and every letter is as wide as any other: 600 of 1000 units (the font's own metrics).
 */

/** Sheets of paper in points: ISO 216 A4, and what is common in the United States. */
export const PAPERS = {
  a4: { width: 595, height: 842 },
  letter: { width: 612, height: 792 },
} as const
export type Paper = keyof typeof PAPERS

const MARGIN = 44
const SIZE = 8
const LEADING = 11
const EM = 0.6
/** Columns in letters; the note takes what is left. */
const [NAME, VALUE, UNIT] = [34, 12, 5] as const

export type RecordPage = {
  readonly title: string
  readonly sub: string
  /** Stands at the foot of every page. */
  readonly foot: string
  readonly sections: readonly RecordSection[]
}

type Line = { readonly text: string; readonly isBold?: boolean }

/** What WinAnsi has beyond Latin-1 and is used here; any other sign becomes a question mark, never nothing. */
const ALSO: Readonly<Record<string, number>> = {
  '–': 0x96,
  '’': 0x92,
  '“': 0x93,
  '”': 0x94,
  '…': 0x85,
}

function encoded(text: string): string {
  return [...text]
    .map((sign) => {
      const code = ALSO[sign] ?? sign.codePointAt(0) ?? 63
      const byte =
        code > 255 || code < 32 || (code > 126 && code < 160 && !(sign in ALSO)) ? 63 : code
      return byte === 40 || byte === 41 || byte === 92
        ? `\\${String.fromCharCode(byte)}`
        : String.fromCharCode(byte)
    })
    .join('')
}

/** A text in lines of at most so many letters; a longer word is cut. */
export function wrapped(text: string, most: number): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > most) {
      lines.push(line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
    for (; line.length > most; line = line.slice(most)) lines.push(line.slice(0, most))
  }
  return line === '' && lines.length > 0 ? lines : [...lines, line]
}

function rowLines(section: RecordSection, letters: number): Line[] {
  const note = letters - NAME - VALUE - UNIT - 3
  return section.rows.flatMap((row) => {
    const cells = [
      wrapped(`${row.isFlagged ? '! ' : ''}${row.name}`, NAME),
      wrapped(row.value, VALUE),
      wrapped(row.unit, UNIT),
      wrapped(row.note, note),
    ]
    const most = Math.max(...cells.map((lines) => lines.length))
    return Array.from({ length: most }, (_, i) => {
      const [name = '', value = '', unit = '', rest = ''] = cells.map((lines) => lines[i] ?? '')
      const text = `${name.padEnd(NAME)} ${value.padEnd(VALUE)} ${unit.padEnd(UNIT)} ${rest}`
      return { text: text.trimEnd() }
    })
  })
}

/** @returns the document; every page has its title, its number and its foot */
export function recordsPdf(page: RecordPage, paper: Paper): Uint8Array {
  const { width, height } = PAPERS[paper]
  const letters = Math.floor((width - 2 * MARGIN) / (SIZE * EM))
  const head: Line[] = [
    ...wrapped(page.title, letters).map((text) => ({ text, isBold: true })),
    ...wrapped(page.sub, letters).map((text) => ({ text })),
    { text: '' },
  ]
  const foot: Line[] = [{ text: '' }, ...wrapped(page.foot, letters).map((text) => ({ text }))]
  const room = Math.floor((height - 2 * MARGIN) / LEADING) - head.length - foot.length - 1
  const body = page.sections.flatMap((section): Line[] => [
    ...wrapped(section.title, letters).map((text) => ({ text, isBold: true })),
    ...rowLines(section, letters),
    { text: '' },
  ])
  const count = Math.max(1, Math.ceil(body.length / room))
  const pages = Array.from({ length: count }, (_, i) => [
    ...head,
    ...body.slice(i * room, (i + 1) * room),
    ...foot,
    { text: `${i + 1} / ${count}` },
  ])
  return documentOf(pages, { width, height })
}

function documentOf(
  pages: readonly (readonly Line[])[],
  { width, height }: { readonly width: number; readonly height: number },
): Uint8Array {
  const parts: Buffer[] = []
  const add = (part: Buffer | string): number =>
    parts.push(typeof part === 'string' ? Buffer.from(part, 'latin1') : part)
  add('<< /Type /Catalog /Pages 2 0 R >>')
  add('')
  const font = (name: string) =>
    add(`<< /Type /Font /Subtype /Type1 /BaseFont /${name} /Encoding /WinAnsiEncoding >>`)
  const [plain, bold] = [font('Courier'), font('Courier-Bold')]
  const kids = pages.map((lines) => {
    const drawn = lines.map(
      ({ text, isBold }) => `/${isBold ? 'B' : 'P'} ${SIZE} Tf (${encoded(text)}) Tj T*`,
    )
    const content = `BT ${LEADING} TL ${MARGIN} ${height - MARGIN} Td\n${drawn.join('\n')}\nET`
    const id = add(pdfStream('', Buffer.from(content, 'latin1')))
    return add(
      `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${width} ${height}] /Resources << /Font << /P ${plain} 0 R /B ${bold} 0 R >> >> /Contents ${id} 0 R >>`,
    )
  })
  parts[1] = Buffer.from(
    `<< /Type /Pages /Kids [${kids.map((id) => `${id} 0 R`).join(' ')}] /Count ${kids.length} >>`,
    'latin1',
  )
  return pdfFile(parts)
}
