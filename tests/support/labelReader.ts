import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import type { Grey } from './labelImage.ts'

/** A barcode reader that we did not write; its wasm is handed over, never fetched. */
const require = createRequire(import.meta.url)
const wasm = readFileSync(require.resolve('zxing-wasm/reader/zxing_reader.wasm'))
const wasmBinary = wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength)
prepareZXingModule({ overrides: { wasmBinary } })

const OPTIONS = { formats: ['QRCode' as const, 'DataMatrix' as const, 'Code128' as const] }

/** The text of the QR in a PNG, or null. */
export async function readPng(png: Uint8Array): Promise<string | null> {
  const [found] = await readBarcodes(new Uint8Array(png), OPTIONS)
  return found?.isValid ? found.text : null
}

/** The texts of all codes in a picture. */
export async function readAll(image: Grey): Promise<string[]> {
  const found = await readBarcodes(rgbaOf(image), { ...OPTIONS, maxNumberOfSymbols: 255 })
  return found.filter((one) => one.isValid).map((one) => one.text)
}

function rgbaOf({ width, height, data }: Grey) {
  const rgba = new Uint8ClampedArray(width * height * 4)
  for (const [i, grey] of data.entries()) rgba.set([grey, grey, grey, 255], i * 4)
  return { data: rgba, width, height, colorSpace: 'srgb' as const }
}

export async function readGrey(image: Grey): Promise<string | null> {
  const [found] = await readBarcodes(rgbaOf(image), OPTIONS)
  return found?.isValid ? found.text : null
}
