/** The little of subset-font that makeFonts.ts uses. */
declare module 'subset-font' {
  export default function subsetFont(
    font: Uint8Array,
    characters: string,
    options: { targetFormat: 'woff2'; keepFeatures: string[] },
  ): Promise<Uint8Array>
}
