import { check } from './accept.ts'
import { streamsOf, type ThingRef } from './catalog.ts'
import { bringsBack } from './climate/letGo.ts'
import { COMMANDS, type CommandData, isCommand } from './commands.ts'
import { wrongAt, wrongFields } from './contract/wrongField.ts'
import { type Deciding, type Decision, type NewFact, refused, unknown } from './deciding.ts'
import type { Draft } from './envelope.ts'
import { fold } from './fold.ts'
import type { FinishedCoat } from './panel/context.ts'
import { isJobClosed } from './panel/find.ts'
import { routeState } from './panel/where.ts'
import type { InUse, Needing } from './refusalParams.ts'
import { stamp } from './stamp.ts'
import { contextOf, type State, thingOf } from './state.ts'

type Void = Deciding<'VoidEntry', CommandData<'VoidEntry'>>
type DecideAs = (d: Deciding) => Decision

const thingsOf = (state: State) =>
  Object.values(state.things).flatMap((ofKind) => Object.values(ofKind))

const MAKES_CUP: readonly string[] = ['CupMixed', 'CupShared', 'CupPoured']

/** Entries of the state that fit, each once: one entry belongs to several things. */
function entriesWhere(state: State, fits: (e: Draft) => boolean): Draft[] {
  const found = new Map<string, Draft>()
  for (const { entries } of thingsOf(state))
    for (const entry of entries) if (fits(entry)) found.set(entry.id, entry)
  return [...found.values()]
}

/** An entry by its id: the same in whatever thing it is found first. */
function entryIn(state: State, id: string): Draft[] {
  for (const { entries } of thingsOf(state))
    for (const entry of entries) if (entry.id === id) return [entry]
  return []
}

const numberOf = ({ id }: Draft): number => Number(id.slice(id.lastIndexOf('.') + 1))

/**
 * What a void names. A pour is voided with all its facts: its new cup would have no history otherwise. So is
 * a mix, of which each job that it is for was told.
 */
function targetsOf(d: Void): Draft[] {
  const { entry, command } = d.data
  const named =
    entry === undefined
      ? entriesWhere(d.state, (e) => e.command === command)
      : entryIn(d.state, entry)
  const pours = new Set(named.filter((e) => MAKES_CUP.includes(e.type)).map((e) => e.command))
  const whole = pours.size === 0 ? [] : entriesWhere(d.state, (e) => pours.has(e.command))
  const all = [...new Map([...named, ...whole].map((e) => [e.id, e])).values()]
  // All are of one command: in its order, whatever things they were found with.
  return all.sort((a, b) => numberOf(a) - numberOf(b))
}

const keysOf = ({ job, panel, cup, gun, zone, sheet }: Draft) => ({
  job,
  panel,
  cup,
  gun,
  zone,
  sheet,
})

function voidFact(d: Void, target: Draft): NewFact {
  // Bells, people and compressors are named in the data, not by keys: the void must name them too.
  const { key: bell, person, air } = target.data
  return {
    type: 'EntryVoided',
    keys: JSON.parse(JSON.stringify(keysOf(target))),
    data: { entry: target.id, type: target.type, bell, person, air },
    reason: d.data.reason,
  }
}

/** The replacement of the voided entry: a late fact of its own, at the time when that happened. */
function replacement(d: Void, state: State, target: Draft, decideAs: DecideAs): Decision {
  const { replace } = d.data
  if (!replace) return { facts: [] }
  const field = 'data.replace'
  if (!isCommand(replace.type) || replace.type === 'VoidEntry') {
    const names = Object.keys(COMMANDS).filter((name) => name !== 'VoidEntry')
    return wrongAt(`${field}.type`, replace.type, 'oneOf', { words: names })
  }
  const parsed = check<unknown>(COMMANDS[replace.type], replace.data, `${field}.data`)
  if (!parsed.ok) return wrongFields(parsed.errors)
  const command = { ...d.command, type: replace.type, data: parsed.value }
  const at = replace.at ?? target.at
  if (at > d.now) return wrongAt(`${field}.at`, at, 'notAhead', { nowMs: d.now })
  const decided = decideAs({ ...d, state, command, data: parsed.value, at, isLive: false })
  if (!('facts' in decided)) return decided
  // They are numbered after the voids.
  const facts = decided.facts.map(({ n: _, ...f }) => ({
    ...f,
    at: f.at ?? at,
    corrects: target.id,
  }))
  return { facts }
}

/** Whether a cup or panel depends on a sheet or job: its mix, its route, or the job that it belongs to. */
export function restsOn(
  state: State,
  { kind, id }: ThingRef,
  user: ThingRef<'cup' | 'panel'>,
): boolean {
  if (user.kind === 'cup') {
    const cup = contextOf(state, 'cup', user.id)
    return (kind === 'sheet' ? cup?.sheet : cup?.job) === id
  }
  const panel = thingOf(state, { kind: 'panel', id: user.id })
  if (kind !== 'sheet') return panel?.context.job === id
  const isThere = panel !== undefined && routeState(panel.value) !== 'removed'
  return isThere && panel.context.route.some((step) => step.sheet === id)
}

/** Things that depend on others: cups and routes on a sheet, panels and cups on a job. */
function leftHanging(before: State, after: State, ref: ThingRef): InUse | null {
  const isUsed = () =>
    (['cup', 'panel'] as const).some((kind) =>
      Object.keys(after.things[kind]).some((id) => restsOn(after, ref, { kind, id })),
    )
  if (ref.kind === 'sheet') {
    const versions = contextOf(after, 'sheet', ref.id)?.versions ?? []
    if (versions.length > 0 || !isUsed()) return null
    const name = contextOf(before, 'sheet', ref.id)?.versions.at(-1)?.sheet.name
    return { why: 'used', kind: 'sheet', id: ref.id, ...(name ? { name } : {}) }
  }
  if (ref.kind === 'job' && thingOf(after, ref)?.value === 'unknown') {
    if (!isUsed()) return null
    const title = contextOf(before, 'job', ref.id)?.title
    return { why: 'used', kind: 'job', id: ref.id, ...(title ? { name: title } : {}) }
  }
  return null
}

/** What a person calls the entry that needs another one: when, what, and of which panel or cup. */
function needing(before: State, after: State, id: string): Needing | undefined {
  const [entry] = entryIn(after, id)
  if (!entry) return
  const { type, at, job, panel, cup } = entry
  const name = panel === undefined ? undefined : contextOf(before, 'panel', panel)?.name
  const stage = entry.data.stage
  return JSON.parse(JSON.stringify({ type, at, job, panel, cup, stage, name }))
}

const coatsOf = (state: State, { kind, id }: ThingRef): readonly FinishedCoat[] =>
  kind === 'panel' ? (contextOf(state, 'panel', id)?.coats ?? []) : []

/** The end of a coat that would be left without the cups it was sprayed from: its start said them. */
function withoutCup(before: State, after: State, ref: ThingRef): string | undefined {
  const had = new Set(
    coatsOf(before, ref).flatMap(({ cups, entry }) => (cups.length > 0 ? [entry] : [])),
  )
  return coatsOf(after, ref).find(({ cups, entry }) => cups.length === 0 && had.has(entry))?.entry
}

/** Why the log would be inconsistent afterwards: an entry that no longer fits in its place. */
function inUse(before: State, after: State, drafts: readonly Draft[]): InUse | null {
  for (const ref of drafts.flatMap(streamsOf)) {
    const was = new Set(thingOf(before, ref)?.notTaken ?? [])
    const notTaken = thingOf(after, ref)?.notTaken.find((id) => !was.has(id))
    const lost = notTaken ?? withoutCup(before, after, ref)
    if (lost !== undefined) {
      const by = needing(before, after, lost)
      return { why: 'rested', entry: lost, ...ref, ...(by ? { needing: by } : {}) }
    }
    const hanging = leftHanging(before, after, ref)
    if (hanging !== null) return hanging
  }
  return null
}

/**
 * Marks entries as mistakes. They stay visible; the state is as if they had never been. Refused
 * where live facts depend on them and the replacement does not include these.
 */
export function voidEntry(d: Void, decideAs: DecideAs): Decision {
  const name = d.data.entry ?? d.data.command ?? ''
  const targets = targetsOf(d)
  const what = d.data.entry === undefined ? 'command' : 'entry'
  const target = targets[0]
  if (!target) return refused(unknown(what, name, null))
  const stop = (limit: InUse) => refused({ code: 'entryInUse', limit, value: name })
  if (targets.some((t) => t.type === 'EntryVoided')) return stop({ why: 'void' })
  const ids = new Set(targets.map((t) => t.id))
  const isVoided = (e: Draft) => e.type === 'EntryVoided' && ids.has(String(e.data.entry))
  // A void is of the same things as what it voids.
  const of = targets.flatMap(streamsOf).flatMap((ref) => thingOf(d.state, ref)?.entries ?? [])
  if (of.some(isVoided)) return stop({ why: 'voided' })
  const closed = targets.find(
    (t) => t.job !== undefined && t.type !== 'JobClosed' && isJobClosed(d.state, t.job),
  )
  if (closed) return refused({ code: 'closed', limit: null, value: name, about: closed.job ?? '' })

  const voids = targets.map((t) => voidFact(d, t))
  const voidDrafts = stamp(d, voids)
  const without = voidDrafts.reduce(fold, d.state)
  const replaced = replacement(d, without, target, decideAs)
  if (!('facts' in replaced)) return replaced
  const newDrafts = stamp(d, replaced.facts, voids.length)
  const after = newDrafts.reduce(fold, without)
  if (targets.some((t) => bringsBack(d.state, after, t, d.now))) return stop({ why: 'letGo' })
  const why = inUse(d.state, after, [...voidDrafts, ...newDrafts])
  return why === null ? { facts: [...voids, ...replaced.facts] } : stop(why)
}
