import { isEvent } from '../../machines/catalog.ts'
import {
  type Broken,
  byOccurrence,
  type Draft,
  type Entry,
  type Json,
  type Override,
} from '../../machines/envelope.ts'
import { relatedEntries } from '../../machines/job/relatedEntries.ts'
import { type Step, stepsIn } from '../../machines/job/steps.ts'
import { type State, thingOf } from '../../machines/state.ts'
import { reasonText } from '../ui/reasonText.ts'
import type { Format } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'
import { airText, isRecord, type Names, stageNames, stateText } from './names.ts'

/** A job's entries as a list that a person reads: one line each, in the order of occurrence. Pure. */

export type Line = {
  readonly id: string
  readonly type: string
  readonly at: number
  /** When it was pressed, where that is not when it happened. */
  readonly enteredAt: number | null
  /** When it reached the log, where that is not when it was pressed: it waited on a kiosk. */
  readonly recordedAt: number | null
  readonly what: string
  readonly panel: string | null
  readonly by: string | null
  readonly reason: string | null
  readonly photo: string | null
  readonly voided: { readonly at: number; readonly reason: string } | null
  readonly corrects: string | null
  readonly outside: readonly string[]
  readonly override: { readonly reason: string; readonly broken: readonly string[] } | null
  readonly notJudged: readonly string[]
  /** What the panel came to by it, where the entry does not say so itself: "clear, between coats". */
  readonly came: string | null
  /** Why it does not count: where its panel, cup or job stood then. */
  readonly notTaken: readonly string[]
  /** Whether it may be voided: not a void, not voided. */
  readonly mayVoid: boolean
}

/** Later than this is late: within it a command is live. */
const LIVE_MS = 10_000

/** Codes whose limit and value are instants. */
const TIMED = [
  'windowShut',
  'flashNotOver',
  'lookFirst',
  'cupEmptied',
  'inductionNotOver',
  'potLifeOver',
  'cureNotOver',
  'keepOver',
  'cleanerWet',
  'notReady',
  'sandEarly',
]

/** The name of a label's entry where it was not printed. */
const BY_HAND = 'CupLabelByHand'

/** Broken limits in °C. */
const DEGREES: readonly string[] = ['partTemp', 'overheated', 'vehicleLimit']

type Say = { readonly words: Words; readonly format: Format }
type SayAll = Say & { readonly names: Names }

/** A limit or a value, as a person says it. */
function figure(code: string, value: Json, at: number, say: Say): string {
  if (value === null) return historyIn(say.words).none
  if (typeof value === 'number' && TIMED.includes(code)) return say.format.timeAndDay(value, at)
  if (typeof value === 'number' && code === 'dewPoint') return say.format.degrees(value)
  if (typeof value === 'number' && DEGREES.includes(code)) return say.format.temperature(value)
  if (isRecord(value)) return airText(value, say)
  return Array.isArray(value) ? value.join(', ') : textIn(String(value), say.words)
}

const ONE_OF = /^one of (.*)$/

/** What the rules say in words, which are English, in those of the shop. */
function textIn(text: string, words: Words): string {
  const { phrases, oneOf } = historyIn(words)
  const [, list] = ONE_OF.exec(text) ?? []
  return list === undefined ? (stageNames(text, words) ?? phrases[text] ?? text) : oneOf(list)
}

/** "flash not over: limit 12:10, was 12:04". */
export function brokenText({ code, limit, value }: Broken, at: number, say: Say): string {
  const history = historyIn(say.words)
  const name = history.codes[code] ?? code
  const both = limit === null && value === null
  return both
    ? name
    : history.broken(name, figure(code, limit, at, say), figure(code, value, at, say))
}

/** What is known of a job's panels from its own entries: their names and routes, as they were last told. */
type Known = Map<string, { readonly name: string; readonly route: readonly Json[] }>

function knownPanels(entries: readonly Draft[]): Known {
  const known: Known = new Map()
  for (const { type, panel, data } of entries) {
    if (panel === undefined) continue
    const before = known.get(panel) ?? { name: panel, route: [] }
    if (type === 'PanelAdded' || type === 'RouteSet') {
      const name = typeof data.name === 'string' ? data.name : before.name
      known.set(panel, { name, route: Array.isArray(data.route) ? data.route : [] })
    }
  }
  return known
}

function details(entry: Draft, known: Known, { words, format, names }: SayAll): string[] {
  const { data, panel, cup } = entry
  const { stage } = words
  const stageWord = (name: Json | undefined) =>
    typeof name === 'string' && name in stage ? stage[name as keyof typeof stage] : ''
  const { cures } = words.jobs
  const history = historyIn(words)
  const route = known.get(panel ?? '')?.route ?? []
  const text = (key: string) => (typeof data[key] === 'string' ? (data[key] as string) : '')
  const number = (key: string) => (typeof data[key] === 'number' ? (data[key] as number) : null)
  const stepAt = (index: number | null) => {
    const step = index === null ? undefined : route[index]
    const name = isRecord(step) ? stageWord(step.stage) : ''
    return index === null || name === '' ? '' : `${index + 1} ${name}`
  }
  const ml = number('totalMl') ?? number('usedMl') ?? number('leftMl')
  const partC = number('partC')
  const grit = number('grit')
  const result = text('result')
  const mode = text('mode')
  return [
    stageWord(data.stage),
    text('title') || text('text') || text('caption'),
    stepAt(number('step') ?? number('toStep')),
    number('done') === null ? '' : history.coatsKept(number('done') ?? 0),
    result === '' ? '' : (history.results[result] ?? result),
    mode === '' ? '' : (cures[mode] ?? mode),
    cup === undefined ? '' : history.cup(cup.slice(0, 4)),
    text('into') === '' ? '' : `→ ${history.cup(text('into').slice(0, 4))}`,
    entry.type.startsWith('Gun') && entry.gun !== undefined ? names.gun(entry.gun) : '',
    ml === null ? '' : format.volume(ml),
    partC === null ? '' : format.temperature(partC),
    data.isEstimated === true ? history.estimated : '',
    grit === null ? '' : `P${grit}`,
    entry.type === 'CureEnded' && data.isComplete === false ? history.incomplete : '',
    entry.type === 'PanelMoved' ? names.zone(text('zone')) : '',
    data.estimatedStartAt === undefined ? '' : history.startEstimated,
    entry.type === 'BellEscalated' ? (words.calling.reach[text('to')] ?? '') : '',
    entry.type === 'BellEscalated' && data.shown === false ? words.calling.notShown : '',
    entry.type.startsWith('Bell') ? (history.bells[text('key').split(':')[0] ?? ''] ?? '') : '',
  ].filter((part) => part !== '')
}

function overrideOf(override: Override | undefined, at: number, say: Say): Line['override'] {
  if (!override) return null
  const broken = override.broken.map((one) => brokenText(one, at, say))
  return { reason: reasonText(override.reason, say.words), broken }
}

/** A reason is the entry's own, or belongs to what it says: why a step was skipped, why sent back. */
function reasonOf({ reason, data }: Draft, words: Words): string | null {
  const said = reason ?? data.reason
  return typeof said === 'string' ? reasonText(said, words) : null
}

/** Entries whose own name says what the panel came to. */
const SAYS_ITSELF = ['CoatStarted', 'CureStarted', 'PanelAbraded', 'PanelPassed', 'PanelRemoved']

function statesOf({ id, type }: Draft, steps: readonly Step[], words: Words) {
  const { came, stood } = historyIn(words)
  const own = steps.filter(({ entry }) => entry === id)
  const to = own.find(({ kind, isTaken }) => kind === 'panel' && isTaken)
  const left = own.filter(({ isTaken }) => !isTaken)
  return {
    came: to && !SAYS_ITSELF.includes(type) ? came(stateText(to, words)) : null,
    notTaken: left.map((step) => stood[step.kind](stateText(step, words))),
  }
}

/**
 * @param entries of one job, in any order; those of an open job on a kiosk are drafts of the state
 * @param steps what they did to the states of their things
 */
export function linesOf(
  entries: readonly (Draft | Entry)[],
  say: SayAll,
  steps: readonly Step[] = [],
): Line[] {
  const sorted = entries.toSorted(byOccurrence)
  const known = knownPanels(sorted)
  const voids = new Map(
    sorted.filter((e) => e.type === 'EntryVoided').map((e) => [String(e.data.entry), e] as const),
  )
  const byId = new Map(sorted.map((e) => [e.id, e]))
  const what = (entry: Draft): string => {
    const type = entry.data.byHand === true ? BY_HAND : entry.type
    const { events } = historyIn(say.words)
    const name = type === BY_HAND || isEvent(type) ? events[type] : type
    if (entry.type === 'EntryVoided') {
      const target = byId.get(String(entry.data.entry))
      return target ? `${name}: ${what(target)}` : name
    }
    return [name, ...details(entry, known, say)].join(' · ')
  }
  return sorted.map((entry): Line => {
    const voided = voids.get(entry.id)
    const recordedAt = 'recordedAt' in entry ? entry.recordedAt : entry.enteredAt
    return {
      id: entry.id,
      type: entry.type,
      at: entry.at,
      enteredAt: Math.abs(entry.enteredAt - entry.at) > LIVE_MS ? entry.enteredAt : null,
      recordedAt: recordedAt - entry.enteredAt > LIVE_MS ? recordedAt : null,
      what: what(entry),
      panel: entry.panel === undefined ? null : (known.get(entry.panel)?.name ?? entry.panel),
      by: entry.by === null ? null : say.names.person(entry.by),
      reason: reasonOf(entry, say.words),
      photo: typeof entry.data.photo === 'string' ? entry.data.photo : null,
      voided: voided ? { at: voided.at, reason: reasonText(voided.reason ?? '', say.words) } : null,
      corrects: entry.corrects ?? null,
      outside: (entry.outside ?? []).map((one) => brokenText(one, entry.at, say)),
      override: overrideOf(entry.override, entry.at, say),
      notJudged: (entry.notJudged ?? []).map((code) => historyIn(say.words).codes[code] ?? code),
      ...statesOf(entry, steps, say.words),
      mayVoid: entry.type !== 'EntryVoided' && !voided,
    }
  })
}

/** What a job's entries did to their things, by this kiosk's own state. */
export const stepsHere = (state: State, entries: readonly Draft[]): Step[] =>
  stepsIn(entries, (ref) => thingOf(state, ref)?.entries ?? [])

/** The entries of a job and what bears on it, as this kiosk has them while the server is away. */
export function entriesHere(state: State, job: string): Draft[] {
  const found = new Map<string, Draft>()
  for (const ofKind of Object.values(state.things)) {
    for (const thing of Object.values(ofKind)) {
      for (const entry of thing.entries) if (entry.job === job) found.set(entry.id, entry)
    }
  }
  return relatedEntries([...found.values()], (ref) => thingOf(state, ref)?.entries ?? []).entries
}
