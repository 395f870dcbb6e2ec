import { traced } from '../../machines/trace/trace.ts'
import {
  cleanCases,
  doubleCases,
  isStrong,
  scoreOf,
  singleCases,
  told,
} from '../support/planted.ts'
import { SimulatedJob } from '../support/simulatedJob.ts'
import { note, title } from './figures.ts'
import { oursAtMost, part, ratioAtMost, type Target } from './table.ts'
import { traceDrawn } from './traceDrawn.ts'

/** How well planted causes are found, as a table of what was taken for what, and what a job costs to trace. */

/** Another one than the tests have: what is printed here decides nothing. */
const SEED = 7
const PER_CENT = 100

const atLeast = (bound: number): Target => ({ of: 'ours', is: 'at least', bound })
const FIRST = 'planted cause is first'
const THREE = 'planted cause is among the first three'
const BOTH = 'both of two causes are among the first three'
const CLEAN = 'clean jobs with a strong cause'
const DRAWN = 'some 200 entries, from the answer to the timeline'
const STEP = 'some 200 entries, a step of the slider'
const COST = 'a job of some 150 entries, traced'
const LONG = 'a job of 5,000 entries, traced: an entry against one of the short job'

export const trace = part(
  'trace',
  {
    [FIRST]: atLeast(80),
    [THREE]: atLeast(95),
    [BOTH]: atLeast(95),
    [CLEAN]: oursAtMost(0),
    [COST]: oursAtMost(300),
    [LONG]: ratioAtMost(3),
    [DRAWN]: oursAtMost(300),
    [STEP]: oursAtMost(100),
  },
  async (put) => {
    title('trace: jobs with planted causes, played through the real rules')
    const singles = singleCases(SEED).map(told)
    const score = scoreOf(singles)
    put(FIRST, { ours: (PER_CENT * score.first) / score.of, unit: '%' })
    put(THREE, { ours: (PER_CENT * score.three) / score.of, unit: '%' })
    const doubles = scoreOf(doubleCases(SEED, 30).map(told))
    put(BOTH, { ours: (PER_CENT * doubles.three) / doubles.of, unit: '%' })
    put(CLEAN, { ours: cleanCases(SEED, 30).map(told).filter(isStrong).length, unit: 'of 30' })
    // Of each planted cause: how often it was first, and what was taken for it.
    const rows = new Map<string, Map<string, number>>()
    for (const { of, order } of singles) {
      const row = `${of.defect}: ${of.planted[0]}`
      const cells = rows.get(row) ?? new Map<string, number>()
      const column = order[0] ?? 'nothing'
      cells.set(column, (cells.get(column) ?? 0) + 1)
      rows.set(row, cells)
    }
    for (const [row, cells] of rows)
      note(`${row.padEnd(36)} ${[...cells].map(([is, n]) => `${is} ${n}`).join(', ')}`)
    const jobs = singleCases(SEED)
      .slice(0, 20)
      .map(({ plan }) => new SimulatedJob(plan).entries)
    for (const entries of jobs) traced(entries)
    const from = performance.now()
    for (const entries of jobs) traced(entries)
    const short = (performance.now() - from) / jobs.length
    put(COST, { ours: short, unit: 'ms' })
    const [entries = []] = jobs
    const last = entries.at(-1)
    const looks = Array.from({ length: 5_000 }, (_, i) => ({
      ...{ ...last, id: `look-${i}.0`, command: `look-${i}`, type: 'CoatInspected' },
      ...{ panel: 'SPPP2222', seq: 10_000 + i, data: { result: 'good' } },
    }))
    const long = [...entries, ...looks] as typeof entries
    const began = performance.now()
    traced(long)
    const each = (performance.now() - began) / long.length
    put(LONG, {
      ...{ ours: each, unit: 'ms' },
      limit: { what: 'short', value: short / entries.length },
    })
    const drawn = await traceDrawn()
    note(
      `${drawn.entries} entries in the browser; of the page's thread, in processor time: drawn ${drawn.drawnThreadMs.toFixed(0)} ms, a step ${drawn.stepThreadMs.toFixed(0)} ms`,
    )
    const answer = { what: 'its answer alone', value: drawn.answerMs }
    put(DRAWN, { ours: drawn.drawnMs - drawn.answerMs, unit: 'ms', limit: answer })
    put(STEP, { ours: drawn.stepMs, unit: 'ms' })
  },
)
