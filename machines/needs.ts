import { type Kind, streamsOf, type ThingRef } from './catalog.ts'
import type { AnyCommand } from './contract.ts'
import { DEVICES } from './devices/fold.ts'
import type { Draft } from './envelope.ts'
import { fold } from './fold.ts'
import { cupsBackFrom, cupsOf } from './gun/back.ts'
import { isOutOfGun } from './gun/filled.ts'
import { cupsPlacedBy } from './panel/placed.ts'
import { around } from './refold.ts'
import { type State, thingOf } from './state.ts'

/** What has to be folded from the log before a command can be decided, if the state evicted it. */
export type Needs = {
  readonly things: readonly ThingRef[]
  /** Entries by id, and commands by id, whose things are needed. */
  readonly entries: readonly string[]
  readonly commands: readonly string[]
}

const KEYS: readonly Kind[] = ['job', 'panel', 'cup', 'gun', 'sheet']

const OF_DEVICES: readonly AnyCommand['type'][] = [
  'TestSound',
  'CommissionLevel',
  'ReportSleep',
  'ReportFlood',
  'ReportClockJump',
  'ConfirmClock',
]

function idsIn(data: Readonly<Record<string, unknown>>, kind: Kind): string[] {
  const one = data[kind]
  const many = kind === 'panel' ? data.panels : kind === 'job' ? data.alsoFor : undefined
  const from = kind === 'cup' ? data.from : undefined
  return [
    ...(typeof one === 'string' ? [one] : []),
    ...(Array.isArray(many) ? many.filter((id) => typeof id === 'string') : []),
    ...(Array.isArray(from)
      ? from.flatMap((f: { cup?: unknown } | null) => (typeof f?.cup === 'string' ? [f.cup] : []))
      : []),
  ]
}

function thingsIn(data: Readonly<Record<string, unknown>>): ThingRef[] {
  return KEYS.flatMap((kind) => idsIn(data, kind).map((id) => ({ kind, id })))
}

/** The things that a command names. Pure: the server looks up those that its state does not hold. */
export function needs(command: AnyCommand): Needs {
  const data = command.data as Readonly<Record<string, unknown>>
  // These name nothing: they belong to the one thing that holds all kiosks.
  if (OF_DEVICES.includes(command.type)) return { things: [DEVICES], entries: [], commands: [] }
  if (command.type !== 'VoidEntry') return { things: thingsIn(data), entries: [], commands: [] }
  const { entry, command: voided, replace } = command.data
  return {
    things: replace ? thingsIn(replace.data) : [],
    entries: entry === undefined ? [] : [entry],
    commands: voided === undefined ? [] : [voided],
  }
}

/** The entries that make what is evicted whole: before them at most something was said of it too early. */
const MAKES = {
  job: ({ type }: Draft) => type === 'JobOpened',
  panel: ({ type }: Draft) => type === 'PanelAdded',
  cup: ({ type, data }: Draft) =>
    type === 'CupMixed' || (type === 'CupPoured' && data.role === 'child'),
} satisfies Partial<Record<Kind, (entry: Draft) => boolean>>

/** The cups that were in a gun whenever something came out of it after an entry: all of these are asked what that was. */
function inGunSince(state: State, entry: Draft): ThingRef[] {
  const gun = streamsOf(entry).find(({ kind }) => kind === 'gun')?.id
  const filled = gun === undefined ? [] : cupsBackFrom(state, gun, entry)
  if (gun === undefined || filled.length === 0) return []
  const { gunAt } = around(fold(state, entry))
  const entries = filled.flatMap((id) => thingOf(state, { kind: 'cup', id })?.entries ?? [])
  const out = entries.filter((e) => e.gun === gun && isOutOfGun(e))
  return out
    .flatMap(({ at }) => cupsOf(gunAt(gun, at)?.loads ?? []))
    .map((id) => ({ kind: 'cup', id }))
}

const isEvictedWhole = (kind: Kind): kind is keyof typeof MAKES => kind in MAKES

/**
 * The things that an entry is about and that the state has evicted: folded without them it would make
 * a blank thing, or half of one. What is made for a job makes open work of that job. A gun may hold what was
 * sprayed from a cup that is over: where its panel was is where it was; and what came out of the gun is of all that was in it.
 * @param entry the next one of the log, not in the state yet
 */
export function evictedFor(state: State, entry: Draft): ThingRef[] {
  const streams = streamsOf(entry)
  const isMade = ({ kind }: ThingRef) => isEvictedWhole(kind) && MAKES[kind](entry)
  const job = streams.some((ref) => ref.kind !== 'job' && isMade(ref)) ? entry.job : undefined
  const about = streams.filter((ref) => isEvictedWhole(ref.kind) && !isMade(ref))
  const placed = cupsPlacedBy(state, entry).map((id): ThingRef => ({ kind: 'cup', id }))
  const refs: ThingRef[] = [
    ...about,
    ...placed,
    ...inGunSince(state, entry),
    ...(job === undefined ? [] : [{ kind: 'job', id: job } as const]),
  ]
  return refs.filter((ref) => !thingOf(state, ref))
}
