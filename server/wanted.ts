import { streamsOf, type ThingRef } from '../machines/catalog.ts'
import type { AnyCommand } from '../machines/contract.ts'
import type { Entry } from '../machines/envelope.ts'
import { needs } from '../machines/needs.ts'
import { FOREVER_MS } from '../machines/spans.ts'
import { contextOf, type State, thingOf } from '../machines/state.ts'
import { restsOn } from '../machines/void.ts'
import type { Reader } from './reading.ts'
import { reload } from './reload.ts'
import { workTurn } from './turn.ts'

/** What a command is about, of which the state may have evicted some. */
export type Wanted = {
  /** What the command itself names. */
  readonly named: readonly ThingRef[]
  /** That, and what the entries are about that it voids. */
  readonly things: readonly ThingRef[]
  /** The entries that it voids. */
  readonly voided: readonly Entry[]
  /** The earliest instant that it is about, UTC ms. */
  readonly sinceMs: number
}

/** A finish without a start is judged at its estimated start: no coat is sprayed for longer. */
const SPRAYING_MS = 2 * 3_600_000

/** Whether a finish ends coats that all have a start. */
const endsStarted = (state: State, panels: readonly string[], at: number): boolean =>
  panels.every((id) => (contextOf(state, 'panel', id)?.open?.startedAt ?? FOREVER_MS) <= at)

/**
 * The earliest instant that a command is about by itself: a finish began before it was pressed.
 * @param voidedAt of the entries that it voids
 */
function since(state: State, command: AnyCommand, now: number, voidedAt: number[] = []): number {
  const { type, data, at = command.enteredAt ?? now } = command
  if (type === 'FinishCoat') {
    const sprayedMs = endsStarted(state, data.panels, at) ? 0 : SPRAYING_MS
    return Math.min(at - sprayedMs, data.startedAt ?? at)
  }
  const replace = type === 'VoidEntry' ? data.replace : undefined
  if (!replace) return Math.min(at, ...voidedAt)
  // What replaces it may be a finish too, and is judged at its own time.
  const { startedAt = now } = replace.data
  const earliest = Math.min(...voidedAt, replace.at ?? now) - SPRAYING_MS
  return Math.min(at, earliest, typeof startedAt === 'number' ? startedAt : now)
}

/** The cups that are in a gun: what comes out of it into a clean cup is made of them, however long they are empty. */
function heldIn(state: State, command: AnyCommand): ThingRef[] {
  if (command.type !== 'PourBack' || !command.data.cleanCup) return []
  const loads = contextOf(state, 'gun', command.data.gun)?.loads ?? []
  return loads.flatMap(({ cup }): ThingRef[] => (cup === null ? [] : [{ kind: 'cup', id: cup }]))
}

/** What is said of a running coat: it names the panel alone, and is judged by the cups of the coat. */
const OF_RUNNING: readonly AnyCommand['type'][] = [
  'FinishCoat',
  'ContinueCoat',
  'BreakOffCoat',
  'VoidEntry',
]

/**
 * The cups of the coats that a command is said of and that the state has evicted: a cup that is empty
 * may be evicted while a coat of it still runs.
 * @param state with what the command names
 */
export function cupsOfRunning(
  state: State,
  command: AnyCommand,
  { things, sinceMs }: Wanted,
): ThingRef[] {
  if (!OF_RUNNING.includes(command.type)) return []
  const panels = things.flatMap(({ kind, id }) =>
    kind === 'panel' ? (contextOf(state, 'panel', id) ?? []) : [],
  )
  const coats = panels.flatMap(({ open, coats: ended }) => [
    ...(open ? [open] : []),
    ...ended.filter(({ finishedAt }) => finishedAt >= sinceMs),
  ])
  return coats
    .flatMap(({ cups }) => cups)
    .map((id): ThingRef => ({ kind: 'cup', id }))
    .filter((ref) => !thingOf(state, ref))
}

/**
 * The things that a command names, and for a void those of the entries that it names.
 * @param now UTC ms
 * @throws LogError
 */
export async function wantedBy(
  state: State,
  command: AnyCommand,
  now: number,
  reader: Reader,
): Promise<Wanted> {
  const { things: itself, entries, commands } = needs(command)
  const things = [...itself, ...heldIn(state, command)]
  // All but a void: nothing is looked up.
  if (entries.length === 0 && commands.length === 0)
    return { named: things, things, voided: [], sinceMs: since(state, command, now) }
  const named = (await Promise.all(entries.map(reader.byId))).filter((e) => e !== null)
  // A pour is voided whole: the other entries of its command are wanted too.
  const causes = new Set([...commands, ...named.map((entry) => entry.command)])
  const voided = (await Promise.all([...causes].map(reader.byCommand))).flat()
  const streams = voided.flatMap(streamsOf)
  const users = (await Promise.all(streams.map((ref) => usersOf(state, ref, now, reader)))).flat()
  // A closed job's entries are not voided, whatever they are about; a bell comes with its thing.
  const about = voided.flatMap((entry) =>
    (['job', 'panel', 'cup'] as const).flatMap((kind): ThingRef[] => {
      const id = entry[kind]
      return id === undefined ? [] : [{ kind, id }]
    }),
  )
  return {
    named: things,
    things: [...things, ...streams, ...about, ...users],
    voided,
    sinceMs: since(
      state,
      command,
      now,
      voided.map(({ at }) => at),
    ),
  }
}

const DAY_MS = 86_400_000
/** What was typed in later than it happened may be older than the sheet that it names, not by more. */
const BEFORE_MS = 2 * DAY_MS
/** So much is looked through at a time; what is asked meanwhile is answered between. */
const STRETCH_MS = 7 * DAY_MS

const usersIn = (entries: readonly Entry[]) =>
  entries
    .toSorted((a, b) => b.position - a.position)
    .flatMap(streamsOf)
    .flatMap(({ kind, id }) => (kind === 'cup' || kind === 'panel' ? [{ kind, id }] : []))

/**
 * The cups and panels that ever named a sheet or job, the newest first. A sheet is looked for back to when it
 * was first saved: in its key, and in routes, which name their sheets in their data, where no key leads.
 */
async function* namersOf(
  state: State,
  ref: ThingRef<'sheet' | 'job'>,
  now: number,
  reader: Reader,
) {
  const { kind, id } = ref
  if (kind === 'job') return yield* usersIn(await reader.byThing('job', id))
  const isNaming = ({ data }: Entry) =>
    (data.route as readonly { sheet?: string }[]).some((step) => step.sheet === id)
  const saved = contextOf(state, 'sheet', id)?.versions ?? []
  const savedMs = Math.min(now, ...saved.map(({ at }) => at)) - BEFORE_MS
  for (let toAt = now; toAt >= savedMs; toAt -= STRETCH_MS) {
    const between = { fromAt: Math.max(savedMs, toAt - STRETCH_MS + 1), toAt }
    yield* usersIn(await reader.byThing('sheet', id, between))
    for (const type of ['PanelAdded', 'RouteSet'])
      yield* usersIn((await reader.byType(type, between)).filter(isNaming))
    await workTurn()
  }
}

/** A cup or panel that rests on a sheet or job: one is enough to keep it, however long ago it was. */
async function usersOf(
  state: State,
  ref: ThingRef,
  now: number,
  reader: Reader,
): Promise<ThingRef[]> {
  const { kind, id } = ref
  if (kind !== 'sheet' && kind !== 'job') return []
  const seen = new Set<string>()
  for await (const user of namersOf(state, { kind, id }, now, reader)) {
    const name = `${user.kind} ${user.id}`
    if (seen.has(name)) continue
    seen.add(name)
    const whole = await reload(state, [user], reader)
    if (restsOn(whole, ref, user)) return [user]
  }
  return []
}
