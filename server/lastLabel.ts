import type { Reader } from './reading.ts'

const DAY_MS = 86_400_000
/** Back to before any shop: 45 years by the last of the doubled stretches. */
const STRETCHES = 14

/**
 * The label that was printed or written last, by the shop's time; null where none was. Looked for in
 * stretches that double, so that a shop that prints every day reads a day of its labels and no more.
 * @throws LogError where the log cannot be read
 */
export async function lastLabel(
  reader: Pick<Reader, 'byType'>,
  nowMs: number,
): Promise<{ readonly atMs: number; readonly cup: string } | null> {
  // A kiosk whose time was ahead may have printed a little later than now.
  let toAt = nowMs + DAY_MS
  for (let stretch = 0, days = 2; stretch < STRETCHES; stretch += 1, days *= 2) {
    const fromAt = toAt - days * DAY_MS
    const found = await reader.byType('CupLabelPrinted', { fromAt, toAt })
    const last = found.toSorted((a, b) => a.at - b.at).at(-1)
    if (last) return { atMs: last.at, cup: last.cup ?? '' }
    toAt = fromAt - 1
  }
  return null
}
