import { streamsOf, type ThingRef } from '../machines/catalog.ts'
import type { AnyCommand } from '../machines/contract.ts'
import type { Entry } from '../machines/envelope.ts'
import { needs } from '../machines/needs.ts'
import type { State } from '../machines/state.ts'
import { restsOn } from '../machines/void.ts'
import type { Reader } from './reading.ts'
import { reload } from './reload.ts'

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

/** Times that stand in a command's data: a finish's start, a replacement's own time. */
function timesIn(command: AnyCommand): number[] {
  const data = command.data as { startedAt?: number; replace?: { at?: number } }
  const { at = command.enteredAt } = command
  const startAt = command.type === 'FinishCoat' && at !== undefined ? at - SPRAYING_MS : at
  return [startAt, data.startedAt, data.replace?.at].filter((time) => time !== undefined)
}

/**
 * The things that a command names, and for a void those of the entries that it names.
 * @throws LogError
 */
export async function wantedBy(state: State, command: AnyCommand, reader: Reader): Promise<Wanted> {
  const { things, entries, commands } = needs(command)
  const named = (await Promise.all(entries.map(reader.byId))).filter((e) => e !== null)
  // A pour is voided whole: the other entries of its command are wanted too.
  const causes = new Set([...commands, ...named.map((entry) => entry.command)])
  const voided = (await Promise.all([...causes].map(reader.byCommand))).flat()
  const streams = voided.flatMap(streamsOf)
  const users = (await Promise.all(streams.map((ref) => usersOf(state, ref, reader)))).flat()
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
    sinceMs: Math.min(...timesIn(command), ...voided.map(({ at }) => at)),
  }
}

/** All times that a log can hold. */
const EVER = { fromAt: 0, toAt: Number.MAX_SAFE_INTEGER }

/** The cups and panels that ever named a sheet or job, the newest first. */
async function namersOf(kind: 'sheet' | 'job', id: string, reader: Reader) {
  const named = await reader.byThing(kind, id)
  // A route names its sheets in its data: no key leads there.
  const types = kind === 'sheet' ? ['PanelAdded', 'RouteSet'] : []
  const routes = (await Promise.all(types.map((type) => reader.byType(type, EVER)))).flat()
  const isNaming = ({ data }: Entry) =>
    (data.route as readonly { sheet?: string }[]).some((step) => step.sheet === id)
  const entries = [...named, ...routes.filter(isNaming)].sort((a, b) => b.position - a.position)
  const refs = entries
    .flatMap(streamsOf)
    .flatMap(({ kind: of, id: its }) =>
      of === 'cup' || of === 'panel' ? [{ kind: of, id: its }] : [],
    )
  return [...new Map(refs.map((ref) => [`${ref.kind} ${ref.id}`, ref])).values()]
}

/** A cup or panel that rests on a sheet or job: one is enough to keep it, however long ago it was. */
async function usersOf(state: State, ref: ThingRef, reader: Reader): Promise<ThingRef[]> {
  const { kind, id } = ref
  if (kind !== 'sheet' && kind !== 'job') return []
  for (const user of await namersOf(kind, id, reader)) {
    const whole = await reload(state, [user], reader)
    if (restsOn(whole, ref, user)) return [user]
  }
  return []
}
