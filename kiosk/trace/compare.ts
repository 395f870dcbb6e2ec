import type { Draft, Entry } from '../../machines/envelope.ts'
import { deviationsIn } from '../../machines/trace/deviations.ts'
import { type Traced, traced } from '../../machines/trace/trace.ts'
import type { Chart, Mark, Row } from './mark.ts'
import { chartOf } from './marks.ts'

/** Jobs beside one another, each from its first coat on. Pure. */

type Entries = readonly (Draft | Entry)[]
export type Compared = {
  readonly job: string
  readonly title: string
  readonly all: Traced
  readonly entries: Entries
}

/** @param entries of a job, as a trace has them */
export const compared = (job: string, title: string, entries: Entries): Compared => ({
  ...{ job, title, entries },
  all: traced(entries),
})

const SHOWN: readonly Mark['kind'][] = ['coat', 'wait', 'band', 'cure']

/** When the first coat of a job began, UTC ms; null where nothing was sprayed. */
export function firstCoatAt({ panels }: Traced): number | null {
  const starts = panels.flatMap(({ coats }) => coats.map(({ startedAt }) => startedAt))
  return starts.length === 0 ? null : Math.min(...starts)
}

/**
 * The panels of all jobs in one drawing whose time is counted from each job's first coat, ms. A job on which
 * nothing was sprayed has no rows.
 */
export function comparedChart(jobs: readonly Compared[]): Chart {
  const rows: Row[] = []
  const marks: Mark[] = []
  for (const { job, title, all, entries } of jobs) {
    const first = firstCoatAt(all)
    if (first === null) continue
    const since = (ms: number | null) => (ms === null ? null : ms - first)
    const own = chartOf(all, entries, deviationsIn(entries))
    for (const row of own.rows.filter(({ kind }) => kind === 'panel')) {
      const id = `${job} ${row.id}`
      const drawn = own.marks.filter((m) => m.row === row.id && SHOWN.includes(m.kind))
      if (drawn.length === 0) continue
      rows.push({ id, kind: 'panel', name: `${title} · ${row.name}` })
      for (const mark of drawn)
        marks.push({ ...mark, row: id, from: mark.from - first, to: since(mark.to) })
    }
  }
  const ends = marks.flatMap(({ kind, from, to }) => (kind === 'band' ? [] : [from, to ?? from]))
  return { rows, marks, from: Math.min(0, ...ends), to: Math.max(600_000, ...ends) }
}
