import type { Kind, ThingRef } from './catalog.ts'
import type { AnyCommand } from './contract.ts'
import { DEVICES } from './devices/fold.ts'

/** What has to be folded from the log before a command can be decided, if the state let go of it. */
export type Needs = {
  readonly things: readonly ThingRef[]
  /** Entries by id, and commands by id, whose things are wanted. */
  readonly entries: readonly string[]
  readonly commands: readonly string[]
}

const KEYS: readonly Kind[] = ['job', 'panel', 'cup', 'gun', 'sheet']

const OF_DEVICES: readonly AnyCommand['type'][] = ['TestSound', 'CommissionLevel', 'ReportSleep']

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
  // These name nothing, and are of the one thing that is known of all kiosks.
  if (OF_DEVICES.includes(command.type)) return { things: [DEVICES], entries: [], commands: [] }
  if (command.type !== 'VoidEntry') return { things: thingsIn(data), entries: [], commands: [] }
  const { entry, command: voided, replace } = command.data
  return {
    things: replace ? thingsIn(replace.data) : [],
    entries: entry === undefined ? [] : [entry],
    commands: voided === undefined ? [] : [voided],
  }
}
