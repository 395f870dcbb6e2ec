/** What was scanned last. A panel and a cup within a minute are a pair, in either order. */
export type ScanPair = {
  readonly panel: string | null
  readonly cup: string | null
  /** What waits for the other of its pair; `atMs` in kiosk time. */
  readonly waiting: { readonly of: 'panel' | 'cup'; readonly atMs: number } | null
}

export const NOTHING_SCANNED: ScanPair = { panel: null, cup: null, waiting: null }
