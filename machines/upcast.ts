import type { Broken, Entry } from './envelope.ts'
import { RENAMED } from './refusals.ts'

/**
 * Old shapes of stored entries, lifted to the present one on reading. What is stored never changes:
 * a lifted entry keeps its hash, which is that of the text as it was written.
 */

type Data = Entry['data']
/** Takes the data of one version to the next. Pure; what it cannot know it leaves out. */
export type Lift = (data: Data) => Data

/**
 * An entry that this program does not know: of an unknown type, or of a newer version
 * than its own. It is kept and shown, never folded.
 */
export type Unknown = {
  readonly unknown: true
  readonly why: 'type' | 'version'
  readonly entry: Entry
}

export type Upcasts = {
  /**
   * Refuses a table that cannot lift every version. Called once at start.
   * @throws Error naming the types
   */
  check(): void
  /**
   * The entry in its present shape, or marked unknown.
   * @throws Error naming the entry where a lift throws
   */
  lift(entry: Entry): Entry | Unknown
}

/**
 * @param current the version of each type that this program writes; versions count from 1
 * @param lifts for each type that has changed: lifts[type][i] takes version i + 1 to i + 2
 */
export function defineUpcasts(
  current: Readonly<Record<string, number>>,
  lifts: Readonly<Record<string, readonly Lift[]>>,
): Upcasts {
  const versions = new Map(Object.entries(current))
  const ladders = new Map(Object.entries(lifts))

  return {
    check() {
      const faults = [
        ...[...versions].flatMap(([type, version]) =>
          ladderFault(type, version, ladders.get(type)?.length ?? 0),
        ),
        ...[...ladders.keys()]
          .filter((type) => !versions.has(type))
          .map((type) => `${type} has lifts, but no current version`),
      ]
      if (faults.length > 0) throw new Error(`Upcasts are not complete: ${faults.join('; ')}.`)
    },

    lift(entry) {
      const version = versions.get(entry.type)
      if (version === undefined) return { unknown: true, why: 'type', entry }
      if (entry.version === version) return withCodes(entry)
      if (!isVersion(entry.version) || entry.version > version)
        return { unknown: true, why: 'version', entry }
      const steps = (ladders.get(entry.type) ?? []).slice(entry.version - 1)
      try {
        return {
          ...withCodes(entry),
          version,
          data: steps.reduce((data, step) => step(data), entry.data),
        }
      } catch (cause) {
        const what = `Entry ${entry.id} (${entry.type}, version ${entry.version}) cannot be lifted.`
        throw new Error(what, { cause })
      }
    },
  }
}

const renamed = (code: string): string =>
  Object.hasOwn(RENAMED, code) ? (RENAMED[code] ?? code) : code

const brokenNow = (all: readonly Broken[]): Broken[] =>
  all.map((one) => ({ ...one, code: renamed(one.code) }))

/** The entry with the present names of what it broke; itself where it has no older one. */
function withCodes(entry: Entry): Entry {
  const { outside, override, notJudged } = entry
  const codes = [...(outside ?? []).map((o) => o.code), ...(override?.codes ?? [])]
  if (![...codes, ...(notJudged ?? [])].some((code) => renamed(code) !== code)) return entry
  return {
    ...entry,
    ...(outside ? { outside: brokenNow(outside) } : {}),
    ...(override
      ? {
          override: {
            ...override,
            codes: override.codes.map(renamed),
            broken: brokenNow(override.broken),
          },
        }
      : {}),
    ...(notJudged ? { notJudged: notJudged.map(renamed) } : {}),
  }
}

/** Tells a known entry from one that is only kept. */
export const isUnknown = (read: Entry | Unknown): read is Unknown => 'unknown' in read

const isVersion = (given: number): boolean => Number.isSafeInteger(given) && given >= 1

function ladderFault(type: string, version: number, count: number): string[] {
  if (!isVersion(version))
    return [`${type} is of version ${version}; versions are whole numbers from 1`]
  if (count < version - 1)
    return [`${type} is of version ${version} and has no lift from version ${count + 1}`]
  if (count > version - 1)
    return [`${type} is of version ${version} and has a lift too many, from version ${count}`]
  return []
}
