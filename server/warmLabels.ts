import { labels } from './labelThread.ts'

/** After the start, when the kiosks have come back and read the state; nobody prints sooner. */
const AFTER_MS = 700

/**
 * Makes ready what draws labels, some time after the start: the first answer of the server waits for none of it.
 * @param report gets why it failed; the first label then loads everything, or says so
 */
export function warmLabels(report: (error: unknown) => void): void {
  setTimeout(() => void labels.warm().catch(report), AFTER_MS).unref()
}
