import { type Kind, streamsOf, type ThingRef } from './catalog.ts'
import type { AnyCommand } from './contract.ts'
import { DEVICES } from './devices/fold.ts'
import type { Draft } from './envelope.ts'
import { type State, thingOf } from './state.ts'
import type { Thing } from './things.ts'

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
  const many = kind === 'panel' ? data.panels : undefined
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

/** What a state evicts whole, and the entry that begins it: before that entry the thing does not exist. */
const MAKES = {
  job: ({ type }: Draft) => type === 'JobOpened',
  panel: ({ type }: Draft) => type === 'PanelAdded',
  cup: ({ type, data }: Draft) =>
    type === 'CupMixed' || (type === 'CupPoured' && data.role === 'child'),
} satisfies Partial<Record<Kind, (entry: Draft) => boolean>>

const isLetGoOf = (kind: Kind): kind is keyof typeof MAKES => kind in MAKES

/** A thing whose past was cut cannot fold an older entry, or the void of one. */
function reachesBehind(thing: Thing, entry: Draft): boolean {
  if (thing.cutMs === undefined) return false
  const isVoid = entry.type === 'EntryVoided'
  const about = isVoid ? thing.entries.find(({ id }) => id === entry.data.entry) : entry
  return about === undefined || about.at <= thing.cutMs
}

/**
 * Whether an entry is about something that the state has evicted: folded here it would make a
 * blank thing, or half of one. A kiosk's copy that lacks it has to be fetched again.
 * @param entry the next one of the log, not in the state yet
 */
export function isBeyond(state: State, entry: Draft): boolean {
  return streamsOf(entry).some((ref) => {
    const thing = thingOf(state, ref)
    if (thing) return reachesBehind(thing, entry)
    // A bell is evicted and read back with the thing that it is about.
    if (ref.kind === 'bell') return isAboutMissing(state, entry)
    return isLetGoOf(ref.kind) && !MAKES[ref.kind](entry)
  })
}

const isAboutMissing = (state: State, { panel, cup }: Draft): boolean =>
  (panel !== undefined && !thingOf(state, { kind: 'panel', id: panel })) ||
  (cup !== undefined && !thingOf(state, { kind: 'cup', id: cup }))
