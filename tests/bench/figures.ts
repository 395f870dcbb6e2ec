import { availableParallelism, loadavg } from 'node:os'

/** How figures are summed up; what is said of them while they are measured goes beside the table. */

const NAME_WIDTH = 62

const write = (text: string) => process.stderr.write(`${text}\n`)

/** With how much the machine has to do: over 1, whatever is measured waits for a processor. */
export function title(text: string): void {
  const load = (loadavg()[0] ?? 0) / availableParallelism()
  write(`\n${text}\n  load of the last minute, for each processor: ${load.toFixed(1)}`)
}
/** What a figure depends on, or what it does not show. */
export const note = (text: string) => write(`  ${text}`)

export const say = (what: string, value: number, unit: string, target = '') =>
  write(`${what.padEnd(NAME_WIDTH)} ${value.toFixed(2).padStart(10)} ${unit} ${target}`)

/**
 * The value that a share of all does not exceed (nearest rank).
 * @param share 0 to 1
 */
export function quantile(all: readonly number[], share: number): number {
  const sorted = [...all].sort((a, b) => a - b)
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN
}

export const median = (all: readonly number[]): number => quantile(all, 0.5)

/** Times in ms on one line. @param target what they are measured against, in words */
export function times(what: string, allMs: readonly number[], target = ''): void {
  const at = (share: number) => quantile(allMs, share).toFixed(0).padStart(5)
  const shares = `p50${at(0.5)}  p95${at(0.95)}  p99${at(0.99)}  max${at(1)}`
  write(`${what.padEnd(NAME_WIDTH)} ${shares} ms  n ${allMs.length} ${target}`)
}
