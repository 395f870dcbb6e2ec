import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import wasmUrl from 'zxing-wasm/reader/zxing_reader.wasm' with { type: 'file' }

/**
 * Reads codes out of pictures, beside the page so that its clocks go on. The library would fetch its
 * WebAssembly from elsewhere; it is given the path of ours.
 */
prepareZXingModule({
  overrides: { locateFile: (path: string) => (path.endsWith('.wasm') ? wasmUrl : path) },
})

/** The square codes of our labels, and the stripes of older scanners. */
const OPTIONS = {
  formats: ['QRCode' as const, 'DataMatrix' as const, 'Code128' as const],
  maxNumberOfSymbols: 1,
}

/** One picture in, one answer out: the text, or null where there is none. */
self.addEventListener('message', async (event: MessageEvent<ImageData>) => {
  const [found] = await readBarcodes(event.data, OPTIONS)
  self.postMessage(found?.isValid ? found.text : null)
})
