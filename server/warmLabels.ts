import { layoutCodeTile } from '../labels/codeTile.ts'

/** After the start, when the kiosks have come back and read the state; nobody prints sooner. */
const AFTER_MS = 700
const DPI = 203
const CAP_DOTS = 20

/**
 * Loads what draws labels and draws one that nobody sees, some time after the start: the libraries and fonts
 * take longer than a painter at the mixing bench should wait. The first answer of the server waits for none of it.
 * @param report gets why it failed; the first label then loads them, or says so
 */
export function warmLabels(report: (error: unknown) => void): void {
  setTimeout(() => void drawOne().catch(report), AFTER_MS).unref()
}

/** @returns the PNG. @throws where a library or font is missing */
export async function drawOne(): Promise<Uint8Array> {
  const { labelPng } = await import('../labels/render.ts')
  // Others get their turn between loading and drawing.
  await new Promise((othersHadTheirTurn) => setImmediate(othersHadTheirTurn))
  const tile = layoutCodeTile('FLASHBELL', DPI)
  const words = { kind: 'text' as const, text: 'Aa0', x: 0, baseline: CAP_DOTS }
  const text = { ...words, capDots: CAP_DOTS, widthDots: 3 * CAP_DOTS }
  return labelPng({ ...tile, items: [...tile.items, text] })
}
