import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { PDFiumLibrary } from '@hyzyla/pdfium'
import type { Grey } from './labelImage.ts'

/** A renderer of PDFs that we did not write: PDFium, the one in Chromium. */
const require = createRequire(import.meta.url)
const wasm = readFileSync(require.resolve('@hyzyla/pdfium/pdfium.wasm'))
const wasmBinary = wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength)
const MEDIA_BOX = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g
let library: Promise<PDFiumLibrary> | null = null

export type PdfPage = {
  readonly widthPt: number
  readonly heightPt: number
  readonly grey: Grey
}

/** @param dpi dots that an inch of a page is drawn with */
export async function pdfPages(bytes: Uint8Array, dpi: number): Promise<PdfPage[]> {
  library ??= PDFiumLibrary.init({ wasmBinary })
  const document = await (await library).loadDocument(new Uint8Array(bytes))
  // Whole points are all that the renderer says of a page.
  const sizes = [...Buffer.from(bytes).toString('latin1').matchAll(MEDIA_BOX)].map((box) => ({
    widthPt: Number(box[1]),
    heightPt: Number(box[2]),
  }))
  const pages: PdfPage[] = []
  for (let n = 0; n < document.getPageCount(); n += 1) {
    const page = document.getPage(n)
    const { widthPt, heightPt } = sizes[n] ?? { widthPt: 0, heightPt: 0 }
    const dots = (pt: number) => Math.round((pt * dpi) / 72)
    const { width, height, data } = await page.render({
      ...{ width: dots(widthPt), height: dots(heightPt), colorSpace: 'Gray' },
    })
    const grey = { width, height, data: new Uint8ClampedArray(data.slice(0, width * height)) }
    pages.push({ widthPt, heightPt, grey })
  }
  document.destroy()
  return pages
}

/** What a reader finds by searching: the text of all pages, its white space made single. */
export async function pdfText(bytes: Uint8Array): Promise<string> {
  library ??= PDFiumLibrary.init({ wasmBinary })
  const document = await (await library).loadDocument(new Uint8Array(bytes))
  const texts = Array.from({ length: document.getPageCount() }, (_, n) =>
    document.getPage(n).getText(),
  )
  document.destroy()
  return texts.join(' ').replace(/\s+/g, ' ')
}
