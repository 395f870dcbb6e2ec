import { namedIn } from '../machines/bell/named.ts'
import { streamsOf, type ThingRef } from '../machines/catalog.ts'
import { readingsOf } from '../machines/climate/fold.ts'
import { lastBefore } from '../machines/clock/line.ts'
import { cupsNamedIn } from '../machines/complete.ts'
import type { Entry } from '../machines/envelope.ts'
import { evictedAlso } from '../machines/evict.ts'
import { withHeld } from '../machines/held.ts'
import { FOREVER_MS, joined, type Span } from '../machines/spans.ts'
import { airMissing, type ZoneSpan } from '../machines/standing.ts'
import { type State, thingOf, withThing } from '../machines/state.ts'
import { keptFromGuns, withGunsOf, withoutPasts } from './gunPast.ts'
import { type Reader, understood } from './reading.ts'
import { inTurns, nextTurn, TURN_MS } from './turn.ts'
import { withEntries } from './withEntries.ts'

/** What was evicted comes back from the log, by index: one thing, or a stretch of one zone's air. */

/** The panels that say where a cup was used: at that time nobody had added them yet. */
const placing = (entries: readonly Entry[]): ThingRef<'panel'>[] =>
  entries.flatMap(({ data, panel }) =>
    data.cupZone === null && panel !== undefined ? [{ kind: 'panel', id: panel }] : [],
  )

/** A job comes back with all its panels: reopened, all of them are open work. */
function companions(ref: ThingRef, entries: readonly Entry[]): ThingRef[] {
  if (ref.kind === 'cup') return placing(entries)
  return entries.flatMap(({ job, panel }): ThingRef[] => {
    if (ref.kind === 'panel' && job !== undefined) return [{ kind: 'job', id: job }]
    if (ref.kind === 'job' && panel !== undefined) return [{ kind: 'panel', id: panel }]
    return []
  })
}

/**
 * The state with the jobs, panels and cups that were evicted, and with their bells: without these a
 * deadline of weeks ago would ring once more.
 * @param asked what the log was asked for already: a new thing is looked for once, not again with its entries
 * @returns the same state where nothing was missing
 * @throws LogError
 */
export async function reload(
  state: State,
  refs: readonly ThingRef[],
  reader: Reader,
  asked: Set<string> = new Set(),
): Promise<State> {
  let whole = state
  const todo = [...refs]
  const cups = new Set<string>()
  const passes = new Set<string>()
  for (let ref = todo.shift(); ref; ref = todo.shift()) {
    const { kind, id } = ref
    const name = `${kind} ${id}`
    const isWhole = kind === 'job' || kind === 'panel' || kind === 'cup'
    if (!isWhole || asked.has(name) || thingOf(whole, ref)) continue
    asked.add(name)
    const entries = await reader.byThing(kind, id)
    if (entries.length === 0) continue
    const known = <T>(make: () => T) => understood(state.shop, name, make)
    const bells = known(() => entries.flatMap(streamsOf)).filter((one) => one.kind === 'bell')
    const each = new Map([ref, ...bells].map((one) => [one.id, one]))
    for (const one of each.values()) whole = withEntries(whole, one, entries)
    for (const cup of known(() => cupsNamedIn(entries))) cups.add(cup)
    if (kind === 'panel') for (const pass of passesIn(entries)) passes.add(pass)
    todo.push(...known(() => companions(ref, entries)))
  }
  whole = await withBellsOf(whole, passes, reader)
  const isRead = (cup: string) => !thingOf(state, { kind: 'cup', id: cup })
  return cups.size === 0 ? whole : await withFiguresOf(whole, cups, reader, isRead)
}

/** What begins and ends a pass: prompts are named by its command (machines/panel/deadlines.ts). */
const OF_PASS: readonly string[] = ['CoatStarted', 'CoatFinished', 'CoatBrokenOff']

const passesIn = (entries: readonly Entry[]): string[] =>
  entries.flatMap(({ type, command }) => (OF_PASS.includes(type) ? [command] : []))

/**
 * The state with the prompts of some passes that rang in the name of a panel that it does not hold: one of another
 * job, sprayed in the same pass.
 */
async function withBellsOf(
  state: State,
  passes: ReadonlySet<string>,
  reader: Reader,
): Promise<State> {
  const others = new Map<string, string[]>()
  for (const pass of passes) {
    for (const { panel: id } of await reader.byCommand(pass)) {
      if (id === undefined || thingOf(state, { kind: 'panel', id })) continue
      others.set(id, [...(others.get(id) ?? []), pass])
    }
  }
  let whole = state
  for (const [id, shared] of others) {
    await nextTurn()
    const entries = await reader.byThing('panel', id)
    const named = understood(state.shop, `panel ${id}`, () => entries.flatMap(streamsOf))
    const bells = named.filter((ref) => ref.kind === 'bell' && shared.includes(namedIn(ref.id)))
    for (const ref of new Map(bells.map((one) => [one.id, one])).values())
      whole = withEntries(whole, ref, entries)
  }
  return whole
}

/** The state with a cup and the panels that say where it was, as far as it does not hold them. */
async function withCup(state: State, id: string, reader: Reader) {
  const entries = await reader.byThing('cup', id)
  let whole = state
  const read: ThingRef[] = []
  for (const panel of placing(entries)) {
    if (thingOf(whole, panel)) continue
    whole = withEntries(whole, panel, await reader.byThing('panel', panel.id))
    read.push(panel)
  }
  const ref = { kind: 'cup', id } as const
  const named = understood(state.shop, `cup ${id}`, () => cupsNamedIn(entries))
  return { state: withEntries(whole, ref, entries), read: [...read, ref], named }
}

/**
 * The state with what its things took from cups that it does not hold, where these became known only
 * later: such a cup is read, passes its figures on, and is evicted again; so is the past of a gun that something came out of.
 * @param cups those that the things name; those that these were poured from are added
 * @param isRead whether a cup that the state holds was read just now
 * @throws LogError
 */
export async function withFiguresOf(
  state: State,
  cups: Set<string>,
  reader: Reader,
  isRead: (cup: string) => boolean = () => false,
): Promise<State> {
  let whole = state
  const over: ThingRef[] = []
  const [guns, filled] = [new Set<string>(), new Set<string>()]
  // A set goes on to what is added on the way.
  for (const id of cups) {
    const isHeld = thingOf(state, { kind: 'cup', id }) !== undefined
    if (isHeld && !isRead(id)) continue
    if (!isHeld) {
      const found = await withCup(whole, id, reader)
      whole = found.state
      over.push(...found.read)
      for (const one of found.named) cups.add(one)
    }
    const pasts = await withGunsOf(whole, id, reader)
    if (pasts.guns.length === 0) continue
    whole = pasts.state
    filled.add(id)
    for (const gun of pasts.guns) guns.add(gun)
    for (const one of pasts.cups) cups.add(one)
  }
  const found = whole
  return understood(state.shop, 'the cups of what was read', () =>
    withoutPasts(evictedAlso(keptFromGuns(found, filled, guns), over), state, guns),
  )
}

/**
 * The state with all the air that the clocks of some things rest on.
 * @param now UTC ms
 * @param thenMs since when their clocks count for a command that is about them: earlier than now for what is said late
 * @returns the same state where nothing was missing
 * @throws LogError
 */
export async function withAir(
  state: State,
  refs: readonly ThingRef[],
  now: number,
  reader: Reader,
  thenMs?: number,
): Promise<State> {
  let whole = state
  // A clock may end later in the air that was found than it did without it.
  for (;;) {
    const held = whole
    const [span] = understood(state.shop, 'the air of its clocks', () =>
      airMissing(held, refs, now, thenMs),
    )
    if (span === undefined) return whole
    // A stretch of air is many rows: others get their turn before it.
    await nextTurn()
    whole = await withSpan(whole, span, reader)
  }
}

/**
 * The state with a stretch of a zone's air, back to the reading that held when it began, however old
 * that is.
 * @throws LogError
 */
export async function withSpan(state: State, span: ZoneSpan, reader: Reader): Promise<State> {
  const ref = { kind: 'zone', id: span.zone } as const
  for (let toAt = span.fromMs; ; ) {
    const before = await reader.lastBefore('zone', span.zone, 'ClimateRead', toAt)
    const fromAt = before?.at ?? span.fromMs
    const readings = await readingsIn({ ...span, fromMs: fromAt }, span.fromMs, reader)
    const voids = await reader.voidsOf(readings.map(({ id }) => id))
    const whole = withEntries(state, ref, [...readings, ...voids])
    const first = lastBefore(readingsOf(whole, span.zone), span.fromMs)
    // Its void may be in the state and not in the store yet: then the one before it held.
    if (before !== null && (first === undefined || first.at < before.at)) {
      toAt = before.at - 1
      continue
    }
    if (first === undefined && before === null) return await withFirstEver(whole, span, reader)
    return heldIn(whole, span.zone, { fromMs: first?.at ?? 0, toMs: span.toMs })
  }
}

/** The state with what it holds of a zone said to be held. */
function heldIn(state: State, zone: string, span: Span): State {
  const ref = { kind: 'zone', id: zone } as const
  const thing = thingOf(state, ref)
  if (!thing) return state
  const held = joined([...(thing.heldMs ?? []), span])
  return withThing(state, ref, withHeld(state, ref, thing, held))
}

/** The state with the air up to a zone's first reading, which holds back over all that was before it. */
async function withFirstEver(state: State, span: ZoneSpan, reader: Reader): Promise<State> {
  const { zone, toMs } = span
  const [known] = readingsOf(state, zone)
  if (known && known.at <= toMs) return heldIn(state, zone, { fromMs: 0, toMs })
  const first = await firstEver(span, known ? known.at - 1 : state.recordedAt, reader)
  if (!first) return heldIn(state, zone, { fromMs: 0, toMs: known?.at ?? FOREVER_MS })
  // Of several of one instant the earliest holds back.
  const firsts = await readingsIn({ zone, fromMs: first.at, toMs: first.at }, first.at, reader)
  const voids = await reader.voidsOf(firsts.map(({ id }) => id))
  const whole = withEntries(state, { kind: 'zone', id: zone }, [...firsts, ...voids])
  // Its void may be in the state and not in the store yet: then the one after it holds back.
  return await withFirstEver(whole, { ...span, toMs: first.at }, reader)
}

/** A zone's first reading of after a stretch with none until its end, found by halves. */
async function firstEver(
  { zone, toMs }: ZoneSpan,
  untilMs: number,
  reader: Reader,
): Promise<Entry | null> {
  const until = (at: number) => reader.lastBefore('zone', zone, 'ClimateRead', at)
  let first = await until(untilMs)
  for (let none = toMs; first !== null && first.at > none + 1; ) {
    const middle = Math.floor((none + first.at) / 2)
    const before = await until(middle)
    if (before !== null && before.at > none) first = before
    else none = middle
  }
  return first !== null && first.at > toMs ? first : null
}

/** A sensor says some thousand things a day: as much at a time as keeps nobody waiting. */
const AT_A_TIME_MS = 6 * 60 * 60_000

/** @param evenFromMs from when on there are many; before lies little more than the reading that held then */
async function readingsIn(
  { zone, fromMs, toMs }: ZoneSpan,
  evenFromMs: number,
  reader: Reader,
): Promise<Entry[]> {
  const others = inTurns(nextTurn, TURN_MS)
  const found: Entry[] = []
  for (
    let [from, to] = [fromMs, evenFromMs];
    from <= toMs;
    [from, to] = [to + 1, to + AT_A_TIME_MS]
  ) {
    const some = await reader.byThing('zone', zone, { fromAt: from, toAt: Math.min(to, toMs) })
    found.push(...some.filter(({ type }) => type === 'ClimateRead'))
    await others()
  }
  return found
}

/** The state with entries that are to be voided, also those of a zone, gun or device that it evicted. */
export async function withVoided(
  state: State,
  entries: readonly Entry[],
  reader: Reader,
): Promise<State> {
  if (entries.length === 0) return state
  const voids = await reader.voidsOf(entries.map(({ id }) => id))
  return entries
    .flatMap(streamsOf)
    .filter(({ kind }) => kind === 'zone' || kind === 'gun' || kind === 'devices')
    .reduce((s, ref) => withEntries(s, ref, [...entries, ...voids]), state)
}
