import { streamsOf } from '../machines/catalog.ts'
import type { AnyCommand } from '../machines/contract.ts'
import { type Decided, decideAt } from '../machines/decide.ts'
import type { Entry } from '../machines/envelope.ts'
import type { State } from '../machines/state.ts'
import { heardAs, timesOf } from '../machines/timing.ts'
import { LogError } from './log/log.ts'
import { place } from './place.ts'
import { type Answer, accepted, fault, idReused, newerLog, refusedBy, wrong } from './problems.ts'
import type { Reader } from './reading.ts'
import { bringBack, wantedBy } from './thaw.ts'

/** A command that was parsed and waits for its turn. */
export type Asked = {
  readonly command: AnyCommand
  /** Of the command as it was received. */
  readonly digest: string
  /** When it arrived by the shop's time, UTC ms. */
  readonly now: number
  /** Whether that time is beyond doubt. */
  readonly isConfirmed: boolean
}

/** The first answer to a command id. Only accepted commands are remembered. */
export type First = { readonly digest: string; readonly answer: Answer }

export type Group = {
  readonly asked: readonly Asked[]
  /** First answers that left nothing in the log. */
  readonly silent: ReadonlyMap<string, First>
  /** The log holds entries that this program does not know. */
  readonly isNewer: boolean
  readonly reader: Reader
  readonly report: (error: unknown) => void
}

/** The outcome of a command: the state stays the same unless there are entries. */
type Step = {
  readonly state: State
  readonly entries: readonly Entry[]
  readonly answer: Answer
}

export type DecidedGroup = {
  readonly state: State
  readonly entries: readonly Entry[]
  /** One for each command, in order. */
  readonly answers: readonly Answer[]
  /** Those that were accepted and add nothing. */
  readonly silent: ReadonlyMap<string, First>
}

/**
 * Decides commands one after another, each on the state that the one before it left. Nothing is
 * stored here.
 * @throws LogError where the log cannot be read
 */
export async function decideGroup(start: State, group: Group): Promise<DecidedGroup> {
  const firsts = await firstsInLog(group)
  const silent = new Map<string, First>()
  const entries: Entry[] = []
  const answers: Answer[] = []
  let state = start
  for (const asked of group.asked) {
    const { id } = asked.command
    const first = firsts.get(id) ?? group.silent.get(id)
    const step = first ? again(state, asked, first) : await decideOne(state, asked, group)
    if (!first && step.answer.status === 200) {
      const own: First = { digest: asked.digest, answer: step.answer }
      firsts.set(id, own)
      if (step.entries.length === 0) silent.set(id, own)
    }
    state = step.state
    entries.push(...step.entries)
    answers.push(step.answer)
  }
  return { state, entries, answers, silent }
}

async function firstsInLog({ asked, reader }: Group): Promise<Map<string, First>> {
  const found = await Promise.all(asked.map(({ command }) => reader.byCommand(command.id)))
  const firsts = found.flatMap((entries): [string, First][] => {
    const last = entries.at(-1)
    if (!last) return []
    const answer = accepted(last.position, entries)
    return [[last.command, { digest: last.commandDigest, answer }]]
  })
  return new Map(firsts)
}

// 2. The same id? The same command gets its first answer again; another one is refused.
function again(state: State, { command, digest }: Asked, first: First): Step {
  const answer = first.digest === digest ? first.answer : idReused(command.id)
  return { state, entries: [], answer }
}

async function decideOne(state: State, asked: Asked, group: Group): Promise<Step> {
  const only = (answer: Answer): Step => ({ state, entries: [], answer })
  if (group.isNewer) return only(newerLog())
  const { digest, now } = asked
  try {
    const { ready, decided } = await decideReady(state, asked, group.reader)
    if ('error' in decided) return only(wrong(decided.error))
    if ('refusal' in decided) return only(refusedBy(decided.refusal))
    if (decided.drafts.length === 0) return only(accepted(state.head, []))
    // 5. Place and seal, 6. fold.
    const placed = place(ready, decided.drafts, digest, now)
    return { ...placed, answer: accepted(placed.state.head, placed.entries) }
  } catch (error) {
    if (error instanceof LogError && error.op !== 'seal') throw error
    // A fault of ours in one command must not fail the others of its group.
    group.report(error)
    return only(fault('This command recorded nothing. '))
  }
}

type Ready = { readonly ready: State; readonly decided: Decided }

async function decideReady(state: State, asked: Asked, reader: Reader): Promise<Ready> {
  const { command, now } = heardAs(state, asked.command, asked.now, asked.isConfirmed)
  // Impossible times are answered as such; nothing is fetched for them.
  const times = timesOf(command, now)
  if ('error' in times) return { ready: state, decided: times }
  // 3. What it needs and the state evicted is folded again from the log.
  const wanted = await wantedBy(state, command, now, reader)
  const named = await bringBack(state, wanted, reader)
  // 4. Decide.
  const decided = decideAt(named, command, now, times)
  if (!('drafts' in decided)) return { ready: named, decided }
  // It may touch things that it did not name, such as the cup of a coat that was running then.
  const touched = { refs: decided.drafts.flatMap(streamsOf), at: wanted.at }
  const ready = await bringBack(named, touched, reader)
  return { ready, decided: ready === named ? decided : decideAt(ready, command, now, times) }
}
