import type { Draft, Entry } from '../envelope.ts'
import { voidedIn } from '../live.ts'
import type { PanelTold } from './record.ts'
import type { Traced } from './trace.ts'

/** What has to be known of a record before anything is read from it: what it lacks, and what may be off. */

export type Notice =
  /** Not one of the coats has a reading of the air that it was sprayed in. */
  | { readonly is: 'noAir' }
  | { readonly is: 'someAir'; readonly coats: number; readonly of: number }
  /** The server's clock was set: by how much, ms, and when, UTC ms. */
  | { readonly is: 'clockSet'; readonly at: number; readonly byMs: number }
  /** Entries of kiosks whose clock was off, and by how much at most, ms; they were put right. */
  | { readonly is: 'clockOff'; readonly entries: number; readonly mostMs: number }
  /** Facts that were entered long after they happened, and how long at most, ms. */
  | { readonly is: 'toldLate'; readonly entries: number; readonly mostMs: number }
  | { readonly is: 'takenBack'; readonly entries: number }
  /** Nobody said when they began. */
  | { readonly is: 'estimated'; readonly coats: number }
  /** Panels with color and without clear, by name. */
  | { readonly is: 'neverCleared'; readonly panels: readonly string[] }

/** A press may wait so long for the server, and a time may be typed back so far, before it is worth a word. */
const LATE_MS = 600_000
/** A clock that is off by less is what clocks are. */
const OFF_MS = 300_000
const COLOUR: readonly string[] = ['base', 'midcoat']
const CLEAR: readonly string[] = ['clear', 'single-stage']

const isNeverCleared = ({ coats }: PanelTold): boolean => {
  const stages = coats.map(({ stage }) => stage ?? '')
  return stages.some((s) => COLOUR.includes(s)) && !stages.some((s) => CLEAR.includes(s))
}

const most = (all: readonly number[]): number => all.reduce((a, b) => Math.max(a, b), 0)

/** Of the job, and nothing that is said of it afterwards: a decision is no fact that was told late. */
const SAID: readonly string[] = ['EntryVoided', 'DeviationSettled', 'CauseReviewed']
const isFact = ({ type, job, panel, cup }: Draft): boolean =>
  !SAID.includes(type) && [job, panel, cup].some((key) => key !== undefined)

/** @param entries that the job is traced by */
export function noticesOf(
  { panels }: Pick<Traced, 'panels'>,
  entries: readonly (Draft | Entry)[],
): Notice[] {
  const coats = panels.flatMap((panel) => panel.coats)
  const dry = coats.filter(({ air }) => air === null).length
  const voided = voidedIn(entries)
  const facts = entries.filter(isFact)
  const late = facts
    .filter((e) => !voided.has(e.id))
    .map((e) => ('recordedAt' in e ? e.recordedAt : e.enteredAt) - e.at)
    .filter((ms) => ms > LATE_MS)
  const off = facts
    .map(({ clockOffsetMs = 0 }) => Math.abs(clockOffsetMs))
    .filter((ms) => ms > OFF_MS)
  const set = entries.flatMap(({ type, at, data }): Notice[] => {
    if (type !== 'ClockJumped') return []
    return [{ is: 'clockSet', at, byMs: Number(data.toMs) - Number(data.fromMs) }]
  })
  const takenBack = facts.filter((e) => voided.has(e.id)).length
  const estimated = coats.filter(({ isEstimated }) => isEstimated).length
  const uncleared = panels.filter(isNeverCleared).map(({ name }) => name)
  const some = (isSo: boolean, notice: Notice): Notice[] => (isSo ? [notice] : [])
  return [
    ...some(coats.length > 0 && dry === coats.length, { is: 'noAir' }),
    ...some(dry > 0 && dry < coats.length, { is: 'someAir', coats: dry, of: coats.length }),
    ...set,
    ...some(off.length > 0, { is: 'clockOff', entries: off.length, mostMs: most(off) }),
    ...some(late.length > 0, { is: 'toldLate', entries: late.length, mostMs: most(late) }),
    ...some(takenBack > 0, { is: 'takenBack', entries: takenBack }),
    ...some(estimated > 0, { is: 'estimated', coats: estimated }),
    ...some(uncleared.length > 0, { is: 'neverCleared', panels: uncleared }),
  ]
}
