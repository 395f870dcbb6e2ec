import type { Deadline } from '../machines/bell/deadline.ts'
import {
  type AnyCommand,
  parseCommand,
  type Said,
  type ServerRefusal,
  type WrongField,
  type WrongFields,
  wrongAt,
} from '../machines/contract.ts'
import { dueBells } from '../machines/deadlines.ts'
import { decide } from '../machines/decide.ts'
import type { Broken, Command, Entry, Override } from '../machines/envelope.ts'
import { learnedAfter } from '../machines/plan/learnFold.ts'
import { type Learning, NOTHING_LEARNED } from '../machines/plan/learning.ts'
import type { Refusal } from '../machines/refusals.ts'
import { emptyState, type State } from '../machines/state.ts'
import { commandDigest, emptyHead } from './log/chain.ts'
import { place } from './place.ts'
import { idReused } from './problems.ts'
import { inTimeOrder, type Line, linesOf, minuteOf, START_MS } from './rehearseLines.ts'
import { inEnglish } from './say.ts'

/**
 * A day of a shop, played in simulated time through the same parse, decide and fold as the server's.
 * Pure: the same list gives the same lines.
 */

export type CommandLine = {
  readonly atMin: number | null
  readonly type: string | null
  readonly ok: boolean
  readonly refusal?: Said<Refusal> | Said<ServerRefusal>
  readonly error?: Said<WrongField>
  readonly errors?: readonly Said<WrongField>[]
  readonly outside?: readonly Broken[]
  readonly override?: Override
  /** Codes that nothing known could be judged by. */
  readonly notJudged?: readonly string[]
}
export type BellLine = {
  readonly atMin: number
  readonly bell: string
  readonly thing: string
  readonly panels?: readonly string[]
}
export type RehearsalLine = CommandLine | BellLine | { readonly state: State }

const SHOP = 'REHEARSE'
/** No shop rings this often; a fault that rings without end must stop somewhere. */
const BELLS_MOST = 100_000
const FOREVER = Number.POSITIVE_INFINITY

type Answered = Omit<CommandLine, 'atMin' | 'type'>

/**
 * @param list what a file holds: a list of lines as rehearseLines.ts describes them
 * @returns one line a command and one a bell, in order of time, and the state at the end
 */
export function* rehearse(list: readonly unknown[]): Generator<RehearsalLine> {
  const shop = new RehearsedShop()
  for (const line of inTimeOrder(linesOf(list))) {
    yield* shop.ringUntil(line.atMs)
    yield { atMin: line.atMin, type: line.type, ...shop.play(line) }
  }
  yield* shop.ringUntil(FOREVER)
  yield { state: shop.state }
}

/** A shop at the last line of a list, for what is made of it then. */
export type Rehearsed = {
  readonly state: State
  /** UTC ms of the last line. */
  readonly nowMs: number
  readonly learning: Learning
  /** The lines that were not accepted. */
  readonly notOk: readonly CommandLine[]
}

/** The same list, played to its last line and no further. */
export function rehearsed(list: readonly unknown[]): Rehearsed {
  const shop = new RehearsedShop()
  const notOk: CommandLine[] = []
  let nowMs = START_MS
  for (const line of inTimeOrder(linesOf(list))) {
    nowMs = line.atMs
    for (const _ of shop.ringUntil(nowMs));
    const answered = shop.play(line)
    if (!answered.ok) notOk.push({ atMin: line.atMin, type: line.type, ...answered })
  }
  return { state: shop.state, nowMs, learning: shop.learning, notOk }
}

class RehearsedShop {
  learning: Learning = NOTHING_LEARNED
  state: State = emptyState(SHOP, emptyHead(SHOP).hash)
  #nowMs = Number.NEGATIVE_INFINITY
  #bells = 0
  readonly #firsts = new Map<string, { readonly digest: string; readonly answered: Answered }>()

  /** Plays a line of the list at its minute. */
  play(line: Line): Answered {
    this.#nowMs = line.atMs
    if ('error' in line) return this.#wrong(line)
    const parsed = parseCommand(line.command)
    if (!parsed.ok) return this.#wrong(parsed)
    const { id } = parsed.value
    const digest = digestOf(line.command)
    if (digest === null) return this.#wrong(wrongAt('data', undefined, 'hasText', {}))
    const first = this.#firsts.get(id)
    if (first)
      return first.digest === digest ? first.answered : this.#refused(idReused(id).body.refusal)
    const answered = this.#decide(parsed.value, digest)
    if (answered.ok) this.#firsts.set(id, { digest, answered })
    return answered
  }

  /** Rings every bell up to an instant: at its moment, or at once where that was past when it became known. */
  *ringUntil(untilMs: number): Generator<BellLine> {
    const refused = new Set<string>()
    for (;;) {
      const due = dueBells(this.state, untilMs).find((d) => !refused.has(nameOf(d)))
      if (!due) return
      this.#bells += 1
      if (this.#bells > BELLS_MOST) throw new Error(`More than ${BELLS_MOST} bells rang.`)
      this.#nowMs = Math.max(this.#nowMs, due.dueAt)
      const id = `rehearse-bell-${this.#bells}`
      const ring: AnyCommand = { id, type: 'RingBell', data: { key: due.key } }
      const { head } = this.state
      this.#decide(ring, digestOf(ring) ?? '')
      if (this.state.head === head) refused.add(nameOf(due))
      else yield bellLine(due, this.#nowMs)
    }
  }

  /** The sentences are English: a rehearsal is asked for on the command line. */
  #wrong(found: WrongFields): Answered {
    return { ok: false, ...inEnglish(this.#nowMs).fields(found) }
  }

  #refused(refusal: Refusal | ServerRefusal): Answered {
    const { body } = inEnglish(this.#nowMs).answer({ status: 409, body: { refusal } })
    return { ok: false, ...('refusal' in body ? { refusal: body.refusal } : {}) }
  }

  #decide(command: AnyCommand, digest: string): Answered {
    const decided = decide(this.state, command, this.#nowMs)
    if ('error' in decided) return this.#wrong(decided)
    if ('refusal' in decided) return this.#refused(decided.refusal)
    const placed = place(this.state, decided.drafts, digest, this.#nowMs)
    this.state = placed.state
    this.learning = placed.entries.reduce(learnedAfter, this.learning)
    return { ok: true, ...marksOf(placed.entries) }
  }
}

const nameOf = (due: Deadline): string => `${due.key} ${due.dueAt}`

const bellLine = ({ bell, thing, panels }: Deadline, atMs: number): BellLine => ({
  atMin: minuteOf(atMs),
  bell,
  thing: thing.id,
  ...(panels ? { panels } : {}),
})

/** @returns null for what has no RFC 8785 text */
function digestOf(command: object): string | null {
  try {
    return commandDigest(command as Command)
  } catch {
    return null
  }
}

/** What the entries of one command broke, and what they went on against. */
function marksOf(
  entries: readonly Entry[],
): Pick<CommandLine, 'outside' | 'override' | 'notJudged'> {
  const notJudged = once(entries.flatMap((entry) => entry.notJudged ?? []))
  const outside = entries.flatMap((entry) => entry.outside ?? [])
  const overrides = entries.flatMap((entry) => entry.override ?? [])
  const [first] = overrides
  return {
    ...(outside.length > 0 ? { outside } : {}),
    ...(notJudged.length > 0 ? { notJudged } : {}),
    ...(first
      ? {
          override: {
            reason: first.reason,
            codes: once(overrides.flatMap((o) => o.codes)),
            broken: once(overrides.flatMap((o) => o.broken)),
          },
        }
      : {}),
  }
}

const once = <T>(all: readonly T[]): T[] => [
  ...new Map(all.map((one) => [JSON.stringify(one), one])).values(),
]
