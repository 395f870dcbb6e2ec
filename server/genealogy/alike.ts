import type { AlikeJob } from '../../machines/contract/genealogy.ts'
import type { Entry, Json } from '../../machines/envelope.ts'
import { liveIn } from '../../machines/live.ts'
import { deviationsIn } from '../../machines/trace/deviations.ts'
import { ownEntries } from '../jobEntries.ts'
import type { Reader } from '../reading.ts'
import { sheetsIn } from '../traceEntries.ts'
import { workTurn } from '../turn.ts'
import type { Genealogy } from './index.ts'

/** Jobs of the same products that went well: what a job with a defect is compared with. */

/** The last cups of a product that are looked through for jobs. */
const CUPS_MOST = 200
/** As many of the most alike are read to see whether they went well. */
const READ_MOST = 12
const SHOWN_MOST = 3

type Candidate = { readonly job: string; sheets: number; at: number }

/** Color codes of a job, as it was opened; an empty one names no color. */
function coloursIn(entries: readonly Entry[]): Set<string> {
  const { colours } = entries.find(({ type }) => type === 'JobOpened')?.data ?? {}
  const codes = (Array.isArray(colours) ? colours : []).map((one: Json) =>
    typeof one === 'object' && one !== null && 'code' in one ? String(one.code).trim() : '',
  )
  return new Set(codes.map((code) => code.toLowerCase()).filter((code) => code !== ''))
}

/** What speaks against a job as one that went well: a limit that was broken, a panel that was sent back, a defect. */
const WENT_WRONG: readonly string[] = ['PanelSentBack', 'CauseReviewed']

function wentWell(entries: readonly Entry[]): boolean {
  const live = liveIn(entries)
  const isThere = (type: string) => live.some((entry) => entry.type === type)
  if (!isThere('JobOpened') || !isThere('PanelPassed')) return false
  if (live.some(({ type }) => WENT_WRONG.includes(type))) return false
  return !deviationsIn(entries).some(
    ({ kind, isVoided }) => (kind === 'outside' || kind === 'override') && !isVoided,
  )
}

type Sources = { readonly reader: Reader; readonly index: Genealogy }

/**
 * At most three jobs that went well: first those of the same color, then those with the most products in
 * common, then the latest.
 * @returns null for a job that the log does not know
 */
export async function alikeJobs(
  job: string,
  head: number,
  { reader, index }: Sources,
): Promise<AlikeJob[] | null> {
  const own = await ownEntries(job, head, reader)
  if (own.length === 0) return null
  const found = new Map<string, Candidate>()
  for (const sheet of sheetsIn(own)) {
    for (const [other, at] of index.jobsOfSheet(sheet, CUPS_MOST)) {
      const was = found.get(other) ?? { job: other, sheets: 0, at: 0 }
      found.set(other, { job: other, sheets: was.sheets + 1, at: Math.max(was.at, at) })
    }
    await workTurn()
  }
  found.delete(job)
  const colours = coloursIn(own)
  const most = [...found.values()]
    .toSorted((a, b) => b.sheets - a.sheets || b.at - a.at)
    .slice(0, READ_MOST)
  const good: AlikeJob[] = []
  for (const candidate of most) {
    const entries = await ownEntries(candidate.job, head, reader)
    const title = entries.find(({ type }) => type === 'JobOpened')?.data.title
    const isSameColour = [...coloursIn(entries)].some((code) => colours.has(code))
    if (wentWell(entries)) good.push({ ...candidate, title: String(title ?? ''), isSameColour })
    await workTurn()
  }
  const byColour = (a: AlikeJob, b: AlikeJob) => Number(b.isSameColour) - Number(a.isSameColour)
  return good.toSorted(byColour).slice(0, SHOWN_MOST)
}
