import type { Entry } from '../machines/envelope.ts'
import { zoneOfEntry } from '../machines/trace/zones.ts'
import { timelineOf } from './jobEntries.ts'
import type { Reader } from './reading.ts'
import { workTurn } from './turn.ts'

/** What a job is traced by: its timeline, the air of its zones while something was wet, its sheets and guns. */

const DAY_MS = 86_400_000
/** No clock of a film or a cup counts longer than this after what began it. */
const CLOCK_MS = 14 * DAY_MS
/** What of a zone's entries says how its air was, and what held back the dust in it. */
const OF_AIR: readonly string[] = ['ClimateRead', 'AirMoversSet', 'DayRangeSet', 'FilterServiced']
/** What begins or ends a clock. */
const WET: readonly string[] = [
  ...[
    'CoatStarted',
    'CoatFinished',
    'CoatContinued',
    'CoatBrokenOff',
    'CupMixed',
    'CupPoured',
    'GunPouredBack',
  ],
  ...['CureStarted', 'CureEnded', 'PanelPassed', 'PartRead', 'PanelMoved'],
]

/** The days on which something of a job was wet, each from its first instant to its last. */
function wetDays(entries: readonly Entry[]): number[] {
  const times = entries.filter(({ type }) => WET.includes(type)).map(({ at }) => at)
  const days = new Set<number>()
  for (const [i, at] of times.toSorted((a, b) => a - b).entries()) {
    const until = Math.min(times[i + 1] ?? at, at + CLOCK_MS)
    for (let day = Math.floor(at / DAY_MS); day * DAY_MS <= until; day += 1) days.add(day)
  }
  return [...days].sort((a, b) => a - b)
}

/** The air of a zone on some days, and what was known of it when the first of them began. */
async function airOf(zone: string, days: readonly number[], reader: Reader): Promise<Entry[]> {
  const found: Entry[] = []
  const [first] = days
  if (first === undefined) return found
  for (const type of OF_AIR) {
    const before = await reader.lastBefore('zone', zone, type, first * DAY_MS)
    if (before) found.push(before)
  }
  for (const day of days) {
    const [fromAt, toAt] = [day * DAY_MS, (day + 1) * DAY_MS - 1]
    const ofDay = await reader.byThing('zone', zone, { fromAt, toAt })
    found.push(...ofDay.filter(({ type }) => OF_AIR.includes(type)))
    // A sensor leaves hundreds a day: whoever else waits is answered between two of them.
    await workTurn()
  }
  return found
}

/** The versions of a sheet that were in force from one instant to another. */
async function versionsOf(sheet: string, fromAt: number, toAt: number, reader: Reader) {
  const found: Entry[] = []
  for (let at = toAt; ; ) {
    const version = await reader.lastBefore('sheet', sheet, 'SheetSaved', at)
    if (!version) return found
    found.push(version)
    if (version.at <= fromAt) return found
    at = version.at - 1
  }
}

/** The sheets that entries name: those of a route, and what was mixed and sprayed. */
export const sheetsIn = (entries: readonly Entry[]): string[] => [
  ...new Set(
    entries.flatMap(({ sheet, data }) => [
      ...(sheet === undefined ? [] : [sheet]),
      ...(Array.isArray(data.route) ? data.route : []).flatMap((step) =>
        typeof step === 'object' && step !== null && 'sheet' in step ? [String(step.sheet)] : [],
      ),
    ]),
  ),
]

/**
 * All entries that a job is traced by, in no order, each once.
 * @param own those that carry the job's id
 * @param head what is later is not committed yet
 */
export async function traceEntries(
  own: readonly Entry[],
  head: number,
  reader: Reader,
): Promise<Entry[]> {
  const { entries } = await timelineOf(own, head, reader)
  await workTurn()
  const times = entries.map(({ at }) => at)
  const [fromAt, toAt] = [Math.min(...times), Math.max(...times)]
  const more: Entry[] = []
  const days = wetDays(entries)
  for (const zone of new Set(entries.flatMap(zoneOfEntry))) {
    // What it was called, and how far a part stays behind its air.
    const saved = await reader.lastBefore('zone', zone, 'ZoneSaved', toAt)
    more.push(...(saved ? [saved] : []), ...(await airOf(zone, days, reader)))
  }
  for (const sheet of sheetsIn(entries)) {
    more.push(...(await versionsOf(sheet, fromAt, toAt, reader)))
    await workTurn()
  }
  for (const gun of new Set(entries.flatMap((e) => e.gun ?? []))) {
    const saved = await reader.lastBefore('gun', gun, 'GunSaved', toAt)
    if (saved) more.push(saved)
    await workTurn()
  }
  // A clock that was set says what times about it are worth.
  more.push(...(await reader.byType('ClockJumped', { fromAt, toAt })))
  const voids = await reader.voidsOf(more.map(({ id }) => id))
  const all = [...entries, ...more, ...voids].filter(({ position }) => position <= head)
  return [...new Map(all.map((entry) => [entry.id, entry])).values()]
}
