/** The little of culori that these tests use: contrast by WCAG 2.2 of two CSS colours. */
declare module 'culori' {
  export function wcagContrast(a: string, b: string): number
}
