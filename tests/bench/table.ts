import { availableParallelism, cpus, totalmem, type } from 'node:os'

/** The rows of the bench: what each part promises to measure, how a figure is judged, and how all are printed. */

/** What is asked of a row: of its ratio to the limit, or of our own figure. */
export type Target = {
  readonly of: 'ratio' | 'ours'
  readonly is: 'at least' | 'at most'
  readonly bound: number
  /** Further than the target, where the project wants to come in the end. */
  readonly goal?: number
}

export const ratioAtLeast = (bound: number, goal?: number): Target => ({
  ...{ of: 'ratio', is: 'at least', bound },
  ...(goal === undefined ? {} : { goal }),
})
export const ratioAtMost = (bound: number): Target => ({ of: 'ratio', is: 'at most', bound })
export const oursAtMost = (bound: number): Target => ({ of: 'ours', is: 'at most', bound })

/** One figure, and what the machine or a peer gave for the same in the same run. */
export type Measured = {
  readonly ours: number
  readonly unit: string
  readonly limit?: { readonly what: string; readonly value: number; readonly unit?: string }
  /** Median of the ratios of the rounds, where they were taken in turn; else ours / limit. */
  readonly ratio?: number
}

/** A line of the table, as it is printed. */
export type Row = {
  readonly part: string
  readonly what: string
  readonly ours: string
  readonly limit: string
  readonly ratio: string
  readonly target: string
  readonly verdict: 'met' | 'missed' | 'no target' | 'not measured'
}

/** Says what a row is. A row may also say why it could not be measured. */
export type Put<What extends string> = (what: What, measured: Measured | { why: string }) => void

export type Part = {
  readonly name: string
  /** Every row that it promised, in that order: what it did not come to says why. */
  readonly measure: (options: Options) => Promise<readonly Row[]>
}

export type Options = {
  /** How many bells are waited for, each way. */
  readonly alerts: number
  /** For how long the lanes are watched. */
  readonly minutes: number
  /** How many the long log has that is compared with a short one. */
  readonly entries: number
}

/**
 * A part of the bench. Its rows stand before anything is measured, so that none is dropped where measuring fails.
 * @param promised each row by what it measures, with what is asked of it; null where nothing is
 */
export function part<What extends string>(
  name: string,
  promised: Readonly<Record<What, Target | null>>,
  measure: (put: Put<What>, options: Options) => Promise<void>,
): Part {
  const wanted = Object.entries(promised) as [What, Target | null][]
  return {
    name,
    async measure(options) {
      const found = new Map<What, Measured | { why: string }>()
      let why = 'the part ended without it'
      try {
        await measure((what, measured) => void found.set(what, measured), options)
      } catch (error) {
        why = error instanceof Error ? error.message : String(error)
      }
      return wanted.map(([what, target]) =>
        rowOf(name, what, target, found.get(what) ?? { why: firstLine(why) }),
      )
    },
  }
}

export function rowOf(
  part: string,
  what: string,
  target: Target | null,
  measured: Measured | { why: string },
): Row {
  const asked = target === null ? '' : sayTarget(target)
  const named = { part, what, target: asked }
  if ('why' in measured) {
    const ours = `not measured: ${measured.why}`
    return { ...named, ours, limit: '', ratio: '', verdict: 'not measured' }
  }
  const { ours, unit, limit } = measured
  const ratio = measured.ratio ?? (limit === undefined ? Number.NaN : ours / limit.value)
  const judged = target?.of === 'ratio' ? ratio : ours
  return {
    ...named,
    ours: `${digits(ours)} ${unit}`.trim(),
    limit: limit === undefined ? '' : `${limit.what} ${digits(limit.value)} ${limit.unit ?? unit}`,
    ratio: Number.isNaN(ratio) ? '' : digits(ratio),
    verdict: target === null ? 'no target' : verdictOf(target, judged),
  }
}

function verdictOf({ is, bound }: Target, judged: number): Row['verdict'] {
  if (!Number.isFinite(judged)) return 'not measured'
  const isMet = is === 'at least' ? judged >= bound : judged <= bound
  return isMet ? 'met' : 'missed'
}

const sayTarget = ({ of, is, bound, goal }: Target): string =>
  `${of} ${is} ${bound}${goal === undefined ? '' : `, goal ${goal}`}`

/** Three digits that count, and no more than two behind the point. */
export function digits(value: number): string {
  if (!Number.isFinite(value)) return 'none'
  const size = Math.abs(value)
  if (size >= 100) return value.toFixed(0)
  return size >= 10 ? value.toFixed(1) : value.toFixed(size >= 1 || size === 0 ? 2 : 3)
}

const HEAD = ['part', 'what', 'ours', 'limit or peer', 'ratio', 'target', 'verdict']

/** The table as Markdown, each column as wide as its widest cell. */
export function tableOf(rows: readonly Row[]): string {
  const cells = rows.map(({ part, what, ours, limit, ratio, target, verdict }) =>
    [part, what, ours, limit, ratio, target, verdict].map((cell) => cell.replaceAll('|', '/')),
  )
  const widths = HEAD.map((name, n) =>
    Math.max(name.length, ...cells.map((row) => (row[n] ?? '').length)),
  )
  const line = (row: readonly string[]) =>
    `| ${row.map((cell, n) => cell.padEnd(widths[n] ?? 0)).join(' | ')} |`
  const rule = `|${widths.map((width) => '-'.repeat(width + 2)).join('|')}|`
  return [line(HEAD), rule, ...cells.map(line)].join('\n')
}

const GIB = 1_024 ** 3

/** What kind of machine this is, not which. */
export const machine = (): string =>
  `${availableParallelism()} processor cores (${cpus()[0]?.model.trim() ?? 'unknown'}), ` +
  `${(totalmem() / GIB).toFixed(0)} GiB of memory, ${type()}, Bun ${Bun.version}`

/** Long enough to know what happened. */
const WHY_MOST = 120

const firstLine = (text: string): string => (text.split('\n')[0] ?? text).slice(0, WHY_MOST)
