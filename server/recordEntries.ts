import { bellFiguresInParts, FIGURE_TYPES } from '../machines/bell/figures.ts'
import type { Entry } from '../machines/envelope.ts'
import { isPresent } from '../machines/people/fold.ts'
import {
  type CupRecord,
  cupRecord,
  isMixed,
  RECORD_TYPES,
  type Records,
  recordsInParts,
} from '../machines/records/records.ts'
import { typedIn } from '../machines/records/typed.ts'
import { filtersDue, trainingsDue } from '../machines/records/upkeep.ts'
import { openHours } from '../machines/shop/hours.ts'
import { settingsOf } from '../machines/shop/settings.ts'
import { contextOf, type State } from '../machines/state.ts'
import type { Jurisdiction } from '../machines/trade/vocLimits.ts'
import type { Reader } from './reading.ts'
import { inTurns, partByPart, workTurn } from './turn.ts'

const DAY_MS = 86_400_000
const ALWAYS = { fromAt: 0, toAt: Number.MAX_SAFE_INTEGER }

/** Entries of types in a time, a type of a day after another, with others in between. */
async function ofTypes(types: readonly string[], from: number, to: number, reader: Reader) {
  const found: Entry[] = []
  const othersTurn = inTurns()
  for (let day = from; day < to; day += DAY_MS) {
    const toAt = Math.min(to, day + DAY_MS) - 1
    for (const type of types) {
      found.push(...(await reader.byType(type, { fromAt: day, toAt })))
      await othersTurn()
    }
  }
  return found
}

const VOIDS_AT_ONCE = 200

/** The ids of those that were voided, also later than in the time that is asked about. */
async function voidedOf(entries: readonly Entry[], reader: Reader): Promise<Set<string>> {
  const voided = new Set<string>()
  for (let at = 0; at < entries.length; at += VOIDS_AT_ONCE) {
    const ids = entries.slice(at, at + VOIDS_AT_ONCE).map(({ id }) => id)
    for (const { data } of await reader.voidsOf(ids)) voided.add(String(data.entry))
    await workTurn()
  }
  return voided
}

const peopleOf = (state: State): Record<string, string> =>
  Object.fromEntries(
    Object.entries(state.things.person).flatMap(([id, { context }]) =>
      isPresent(context) ? [[id, context.name]] : [],
    ),
  )

const zonesOf = (state: State): Record<string, string> =>
  Object.fromEntries(
    Object.entries(state.things.zone).map(([id, { context }]) => [id, context.spec?.name ?? id]),
  )

async function cupRecords(state: State, entries: readonly Entry[], place: Jurisdiction) {
  const sheetOf = (sheet: string, version: number) =>
    contextOf(state, 'sheet', sheet)?.versions.find((one) => one.version === version)?.sheet ?? null
  const cups: CupRecord[] = []
  const othersTurn = inTurns()
  for (const entry of entries) {
    if (!isMixed(entry)) continue
    cups.push(cupRecord(entry, sheetOf, place))
    await othersTurn()
  }
  return cups
}

type Asked = {
  /** UTC ms: the first instant that counts, and the first that does not. */
  readonly from: number
  readonly to: number
  readonly now: number
  readonly place: Jurisdiction
}

/** The records of a time, read from the log by type, in pages that yield. */
export async function recordsFrom(
  state: State,
  { from, to, now, place }: Asked,
  reader: Reader,
): Promise<Records> {
  const isCommitted = ({ position }: Entry) => position <= state.head
  const entries = (await ofTypes(RECORD_TYPES, from, to, reader)).filter(isCommitted)
  const bells = await ofTypes(FIGURE_TYPES, from, to, reader)
  const trainings = await reader.byType('TrainingRecorded', ALWAYS)
  const filters = await reader.byType('FilterServiced', ALWAYS)
  await workTurn()
  const voided = await voidedOf([...entries, ...trainings, ...filters], reader)
  const live = (all: readonly Entry[]) =>
    all.filter((entry) => isCommitted(entry) && !voided.has(entry.id))
  const lasting = live(entries)
  const cups = await cupRecords(state, lasting, place)
  const settings = settingsOf(state)
  const isOpen = openHours(settings)
  await workTurn()
  const rang = bells.filter(isCommitted)
  const figures = await partByPart(
    bellFiguresInParts(rang, { from, to, ...(isOpen ? { isOpen } : {}) }),
  )
  await workTurn()
  const known = live([...trainings, ...filters])
  const typed = typedIn([...known, ...lasting.filter(({ type }) => type === 'SolventUsed')])
  await workTurn()
  const given = {
    ...{ entries, voided, place, cups, typed },
    training: trainingsDue(live(trainings), peopleOf(state), { now, timeZone: settings.timeZone }),
    filters: filtersDue(live(filters), zonesOf(state), now),
    bells: figures,
  }
  return await partByPart(recordsInParts(given))
}
