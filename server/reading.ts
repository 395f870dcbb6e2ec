import { EVENTS, isEvent } from '../machines/catalog.ts'
import type { Entry, ThingKey } from '../machines/envelope.ts'
import { defineUpcasts, isUnknown, type Lift } from '../machines/upcast.ts'
import { type Between, type EventLog, LogError, type Page, type Row } from './log/log.ts'

/** For each type whose shape has changed: LIFTS[type][i] takes version i + 1 to i + 2. */
const LIFTS: Readonly<Record<string, readonly Lift[]>> = {}

const versions = Object.fromEntries(
  Object.entries(EVENTS).map(([type, event]) => [type, event.version]),
)
const upcasts = defineUpcasts(versions, LIFTS)

/** Called once at start. @throws Error where an old version could not be lifted */
export const checkUpcasts = (): void => upcasts.check()

/** Whether this program can fold an entry: it is of a type and version that it writes itself. */
export const isKnown = (entry: Entry): boolean =>
  isEvent(entry.type) && EVENTS[entry.type].version === entry.version

/** In its present shape; what is not known stays as it was written. */
function lifted(stored: Entry): Entry {
  const read = upcasts.lift(stored)
  return isUnknown(read) ? read.entry : read
}

const NOT_UNDERSTOOD =
  'Run verify: where it says that the log is ok, this is a fault of the program: report it, with the last lines it printed. Else restore the last backup.'

/**
 * What is made of stored entries. They may hold what no build has ever written, though their seal holds.
 * @param what for the sentence, such as "entry 7"
 * @throws LogError op `fold` where nothing can be made of them
 */
export function understood<T>(shop: string, what: string, make: () => T): T {
  try {
    return make()
  } catch (cause) {
    if (cause instanceof LogError) throw cause
    const said = `The rules can make nothing of ${what} of shop ${shop}.`
    throw new LogError({ op: 'fold', shop }, 'notUnderstood', said, NOT_UNDERSTOOD, cause)
  }
}

/** One shop's log as everything but verify reads it: old shapes lifted. */
export type Reader = {
  readonly page: (page: Page) => Promise<readonly Entry[]>
  /** As it was written, not lifted: what a chain is checked by. */
  readonly raw: (page: Page) => Promise<readonly Row[]>
  readonly byId: (id: string) => Promise<Entry | null>
  readonly byCommand: (command: string) => Promise<readonly Entry[]>
  readonly byThing: (key: ThingKey, id: string, between?: Between) => Promise<readonly Entry[]>
  readonly voidsOf: (ids: readonly string[]) => Promise<readonly Entry[]>
  readonly byType: (type: string, between: Between) => Promise<readonly Entry[]>
  readonly lastBefore: (
    key: ThingKey,
    id: string,
    type: string,
    toAt: number,
  ) => Promise<Entry | null>
}

/**
 * @param before positions from this one on are not seen: what a replay stands in front of
 * @throws its functions reject with a LogError
 */
export function readerOf(log: EventLog, shop: string, before = Number.POSITIVE_INFINITY): Reader {
  const seen = (entries: readonly Entry[]) =>
    entries.filter((entry) => entry.position < before).map(lifted)
  const one = (entry: Entry | null) => seen(entry ? [entry] : [])[0] ?? null
  return {
    page: async (page) => seen(await log.read(shop, page)),
    raw: async (page) => (await log.raw(shop, page)).filter(({ position }) => position < before),
    byId: async (id) => one(await log.byId(shop, id)),
    byCommand: async (command) => seen(await log.byCommand(shop, command)),
    byThing: async (key, id, between) => seen(await log.byThing(shop, key, id, between)),
    voidsOf: async (ids) => (ids.length === 0 ? [] : seen(await log.voidsOf(shop, ids))),
    byType: async (type, between) => seen(await log.byType(shop, type, between)),
    lastBefore: async (key, id, type, toAt) => one(await log.lastBefore(shop, key, id, type, toAt)),
  }
}
