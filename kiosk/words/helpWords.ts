/** What both languages say of every screen, and in each step of the tour. */
type Page = { readonly title: string; readonly lines: readonly string[] }
export type HelpWords = {
  readonly help: string
  readonly back: string
  readonly tour: string
  readonly skip: string
  readonly next: string
  readonly done: string
  readonly stepOf: (n: number, of: number) => string
  readonly maker: string
  readonly pages: Readonly<Record<string, Page>>
  readonly steps: readonly Page[]
}
