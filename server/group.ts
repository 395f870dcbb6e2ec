import { streamsOf, type ThingRef } from '../machines/catalog.ts'
import type { AnyCommand } from '../machines/contract.ts'
import { type Decided, decideAt } from '../machines/decide.ts'
import type { Entry } from '../machines/envelope.ts'
import { EVICTED_WHOLE, evict, evictThings } from '../machines/evict.ts'
import { evictedFor } from '../machines/needs.ts'
import { clocksChanged, TAIL_MS } from '../machines/standing.ts'
import { type State, thingOf } from '../machines/state.ts'
import { heardAs, timesOf } from '../machines/timing.ts'
import { withFilledAgain } from './filledAgain.ts'
import { LogError } from './log/log.ts'
import { type Placed, place } from './place.ts'
import {
  type Answer,
  accepted,
  fault,
  idReused,
  newerLog,
  photoMissing,
  refusedBy,
  unreadable,
  wrong,
} from './problems.ts'
import type { Reader } from './reading.ts'
import { reload, withAir, withVoided } from './reload.ts'
import { inTurns, nextTurn, TURN_MS } from './turn.ts'
import { cupsOfRunning, wantedBy } from './wanted.ts'

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
  /**
   * Whether each id is looked up before anything is decided; else only those of commands that add no
   * entries are, and the append looks up the others in its transaction.
   */
  readonly looksFirst: boolean
  /** The log holds entries that this program does not know. */
  readonly isNewer: boolean
  readonly reader: Reader
  /** Whether a picture is kept; without it nobody asks. */
  readonly hasPhoto?: ((photo: string) => boolean) | undefined
  readonly report: (error: unknown) => void
  /** UTC ms. */
  readonly now: number
  /** Whether the clock is right: else nothing is evicted. */
  readonly mayEvict: boolean
}

/** The outcome of a command: the state stays the same unless there are entries. */
type Step = {
  readonly state: State
  readonly entries: readonly Entry[]
  readonly answer: Answer
  /** Whether something that was evicted came back for it. */
  readonly isReadBack?: boolean
}

export type DecidedGroup = {
  readonly state: State
  readonly entries: readonly Entry[]
  /** The commands that entries come of: none of them may have any in the log. */
  readonly commands: readonly string[]
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
  const firsts = new Map<string, First>()
  const commands: string[] = []
  const silent = new Map<string, First>()
  const entries: Entry[] = []
  const answers: Answer[] = []
  // What is said of long ago is judged by what is held now, whenever the last eviction was.
  const isLongAgo = group.asked.some(
    ({ command }) => (command.at ?? group.now) < group.now - TAIL_MS,
  )
  const before = isLongAgo && group.mayEvict ? evict(start, group.now) : start
  let state = before
  let isReadBack = false
  const othersTurn = inTurns(nextTurn, TURN_MS)
  for (const asked of group.asked) {
    // Nothing of it is seen before it is committed: others may ask meanwhile.
    await othersTurn()
    const { id } = asked.command
    const known = firsts.get(id) ?? group.silent.get(id)
    const { first, step } = known
      ? { first: known, step: again(state, asked, known) }
      : await decideOrAgain(state, asked, group)
    if (!first && step.answer.status === 200) {
      const own: First = { digest: asked.digest, answer: step.answer }
      firsts.set(id, own)
      if (step.entries.length === 0) silent.set(id, own)
      else commands.push(id)
    }
    state = step.state
    isReadBack ||= step.isReadBack === true
    entries.push(...step.entries)
    for (const entry of step.entries) {
      const again = await withFilledAgain(state, entry, entries, group.reader)
      isReadBack ||= again !== state
      state = again
    }
    answers.push(step.answer)
  }
  const added = isReadBack ? addedTo(start, state) : newIn(start, entries)
  const open = await settled(start, { state, added, entries }, group)
  return { state: open, entries, commands, answers, silent }
}

/** A command that has its answer in the log gets that, whatever would be decided of it now. */
async function decideOrAgain(
  state: State,
  asked: Asked,
  group: Group,
): Promise<{ readonly first: First | null; readonly step: Step }> {
  const inLog = () => firstInLog(asked.command.id, group.reader)
  const repeated = (first: First) => ({ first, step: again(state, asked, first) })
  if (group.looksFirst) {
    const first = await inLog()
    return first ? repeated(first) : { first, step: await decideOne(state, asked, group) }
  }
  const step = await decideOne(state, asked, group)
  const first = step.entries.length > 0 ? null : await inLog()
  return first ? repeated(first) : { first, step }
}

async function firstInLog(id: string, reader: Reader): Promise<First | null> {
  const entries = await reader.byCommand(id)
  const last = entries.at(-1)
  if (!last) return null
  return { digest: last.commandDigest, answer: accepted(last.position, entries) }
}

// 2. The same id? The same command gets its first answer again; another one is refused.
function again(state: State, { command, digest }: Asked, first: First): Step {
  const answer = first.digest === digest ? first.answer : idReused(command.id)
  return { state, entries: [], answer }
}

async function decideOne(state: State, asked: Asked, group: Group): Promise<Step> {
  const only = (answer: Answer): Step => ({ state, entries: [], answer })
  if (group.isNewer) return only(newerLog())
  const missing = photoMissingFor(asked.command, group)
  if (missing !== null) return only(photoMissing(missing))
  const { digest, now } = asked
  try {
    const { ready, decided } = await decideReady(state, asked, group)
    if ('error' in decided) return only(wrong(decided))
    if ('refusal' in decided) return only(refusedBy(decided.refusal))
    if (decided.drafts.length === 0) return only(accepted(state.head, []))
    // 5. Place and seal, 6. fold.
    const placed = place(ready, decided.drafts, digest, now)
    const answer = accepted(placed.state.head, placed.entries)
    return { ...placed, answer, isReadBack: ready !== state }
  } catch (error) {
    if (error instanceof LogError && error.op === 'fold') {
      group.report(error)
      return only(unreadable(error))
    }
    if (error instanceof LogError && error.op !== 'seal') throw error
    // A fault of ours in one command must not fail the others of its group.
    group.report(error)
    return only(fault(true))
  }
}

/** The picture that a command names and nobody has sent. */
function photoMissingFor(command: AnyCommand, { hasPhoto }: Group): string | null {
  if (command.type !== 'AddPhoto' || !hasPhoto) return null
  const { photo } = command.data
  return hasPhoto(photo) ? null : photo
}

type Ready = { readonly ready: State; readonly decided: Decided }

/** Decides on a state with all in it that the command is about; its entries are folded on open work alone. */
async function decideReady(state: State, asked: Asked, group: Group): Promise<Ready> {
  const { command, now } = heardAs(state, asked.command, asked.now, asked.isConfirmed)
  // Impossible times are answered as such; nothing is fetched for them.
  const times = timesOf(command, now)
  if ('error' in times) return { ready: state, decided: times }
  const { reader, mayEvict } = group
  // 3. What it needs and was evicted is folded again from the log.
  const wanted = await wantedBy(state, command, now, reader)
  const { named, things, voided, sinceMs } = wanted
  const asking = { command, now, times, named }
  // What is pressed now is judged by what stands now, unless it tells of before itself.
  const isOfNow = times.isLive && sinceMs >= times.at
  const thenMs = isOfNow ? now : Math.min(sinceMs, now)
  const lookedFor = new Set<string>()
  /** @param known things whose air was asked for in this very state */
  const whole = async (from: State, refs: readonly ThingRef[], known: readonly ThingRef[] = []) => {
    const read = await reload(from, refs, reader, lookedFor)
    const isKnown = ({ kind, id }: ThingRef) =>
      known.some((one) => one.kind === kind && one.id === id)
    const asked = read === from ? refs.filter((ref) => !isKnown(ref)) : refs
    return await withAir(read, asked, now, reader, thenMs)
  }
  // What is said of long ago is judged by what is held by now, whenever the last eviction was.
  const isLongAgo = mayEvict && sinceMs < now - TAIL_MS
  const held = isLongAgo ? withTailsOf(evict(state, now), state) : state
  const found = await whole(held, things)
  const withCups = await whole(found, cupsOfRunning(found, command, wanted))
  const loaded = await withVoided(withCups, voided, reader)
  // 4. Decide.
  const decided = decideAt(loaded, asking)
  if (!('drafts' in decided)) return { ready: state, decided }
  // It may touch what it did not name, such as the cup of a coat that ran then.
  const refs = decided.drafts.flatMap((draft) => [
    ...streamsOf(draft),
    ...evictedFor(loaded, draft),
  ])
  const touched = await whole(loaded, refs, loaded === found ? things : [])
  return {
    ready: touched === state ? state : withTailsOf(state, touched),
    decided: touched === loaded ? decided : decideAt(touched, asking),
  }
}

/** The same things, but zones, guns and devices as another state holds them: it was read for this alone. */
const withTailsOf = ({ things }: State, state: State): State => ({
  ...state,
  things: { ...state.things, zone: things.zone, gun: things.gun, devices: things.devices },
})

/** What one state holds that another does not, of what is evicted whole. */
function addedTo(before: State, after: State): ThingRef[] {
  const refs: ThingRef[] = []
  for (const kind of EVICTED_WHOLE) {
    const [held, known] = [after.things[kind], before.things[kind]]
    if (held !== known)
      for (const id in held) if (!Object.hasOwn(known, id)) refs.push({ kind, id })
  }
  return refs
}

/** The same where nothing came back from the log: entries make new things of their own streams alone. */
const newIn = (before: State, entries: readonly Entry[]): ThingRef[] =>
  entries.flatMap(streamsOf).filter((ref) => !thingOf(before, ref))

/** The state after a group: again of open work only, and with the air that its clocks rest on. */
async function settled(
  before: State,
  after: Pick<Placed, 'state' | 'entries'> & { readonly added: readonly ThingRef[] },
  { now, mayEvict, reader }: Group,
): Promise<State> {
  const { state, added, entries } = after
  if (entries.length === 0) return before
  const open = mayEvict ? evictThings(state, added, now) : state
  const changed = clocksChanged(before, open, entries, now)
  return await withAir(open, changed, now, reader)
}
