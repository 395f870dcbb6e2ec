/** The little of two libraries that the tests of labels use, also where they are not installed yet. */
declare module '@hyzyla/pdfium' {
  type Rendered = { readonly width: number; readonly height: number; readonly data: Uint8Array }
  export class PDFiumLibrary {
    static init(options?: { wasmBinary?: ArrayBuffer }): Promise<PDFiumLibrary>
    loadDocument(bytes: Uint8Array): Promise<{
      getPageCount(): number
      getPage(n: number): {
        getOriginalSize(): { originalWidth: number; originalHeight: number }
        render(options: { width: number; height: number; colorSpace: 'Gray' }): Promise<Rendered>
        getText(): string
      }
      destroy(): void
    }>
  }
}
declare module '@undecaf/zbar-wasm' {
  export function scanGrayBuffer(
    buffer: ArrayBuffer,
    width: number,
    height: number,
  ): Promise<readonly { readonly typeName: string; decode(encoding?: string): string }[]>
}
