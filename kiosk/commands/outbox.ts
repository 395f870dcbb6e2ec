import { computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type { Entry } from '../../machines/envelope.ts'
import type { State } from '../../machines/state.ts'
import type { ClockReading } from '../device/clock.ts'
import { type Fetch, type LinkState, settled } from './link.ts'
import { type OfflineRules, offlineRules } from './offlineRules.ts'
import { memoryOutboxDb, type OtherPages, type OutboxDb } from './outboxDb.ts'
import { batchOf, type Picture, pictureOf } from './picture.ts'
import { deliver, deliverOne, type Posted } from './post.ts'
import {
  isObsolete,
  notKnownIn,
  type Pressed,
  press,
  type QueuedCommand,
  redated,
} from './queuedCommand.ts'
import type { Trouble } from './refusalText.ts'
import { commandId, type Send, type Sent } from './send.ts'
import type { Outbox } from './shop.ts'

/** What an outbox runs on: the browser's own, or a test's. */
export type OutboxSources = OtherPages & {
  readonly db: Promise<OutboxDb>
  readonly fetch: Fetch
  readonly time: () => ClockReading
  readonly confirmed: ReadonlySignal<State | null>
  /** The entries of an answer: `confirmed` shows them from then on. */
  readonly taken: (entries: readonly Entry[]) => void
  readonly link: ReadonlySignal<LinkState>
  readonly wait: (ms: number) => Promise<void>
  /** Fetches the rules of the shop, for what is pressed while nobody answers. */
  readonly rules: () => Promise<OfflineRules>
  /** A command was not taken, long after its press. */
  readonly notTaken: (queued: QueuedCommand) => void
}

/** How often to ask again a server that answers but cannot store (a full disk). */
const AGAIN_MS = 5_000
const BATCH_MOST = 50

/** A press that still waits for its answer. `queued` is null until it is in the database. */
type Waiting = { readonly answer: (sent: Sent) => void; queued: QueuedCommand | null }

export function outbox(from: OutboxSources): Outbox {
  const queue = signal<readonly QueuedCommand[]>([])
  const device = signal('')
  const waiting = new Map<string, Waiting>()
  const attached = new Map<string, Picture>()
  const rules = offlineRules(from.rules)
  const refuses = signal(false)
  const lasts = signal(true)
  const storage = computed(() => (refuses.value ? 'refuses' : lasts.value ? null : 'endsWithPage'))
  let running: Promise<void> | null = null
  let isWanted = false
  let askedAgain: ReadonlySet<string> | null = null
  let counted = 0

  const state = computed(() => {
    const base = from.confirmed.value
    if (base === null) return null
    const open = queue.value.filter(({ trouble }) => trouble === null)
    return rules.folded(base, open, device.value)
  })

  /** The list as it is in the database, without what its painter still waits for. */
  async function look(db: OutboxDb): Promise<void> {
    const all = await db.all()
    device.value = db.device
    lasts.value = db.lasts
    counted = Math.max(counted, ...all.map(({ seq }) => seq))
    queue.value = all.filter(({ command }) => !waiting.has(command.id))
  }

  const changed = (db: OutboxDb): Promise<void> => look(db).then(from.others.tell)

  const send: Send = async (type, data, extra) => {
    const reading = from.time()
    const command = press(commandId(), type, data, reading, extra)
    try {
      const db = await from.db
      await settled(from.link)
      if (from.link.value === 'away') return await enqueue(db, command, reading)
      const answer = new Promise<Sent>((done) => {
        waiting.set(command.id, { answer: done, queued: null })
      })
      const own = await keep(db, command, reading)
      const press = waiting.get(command.id)
      if (press) press.queued = own
      void flush()
      return await answer
    } catch {
      waiting.delete(command.id)
      return (await sendUnkept(command)) ?? { kind: 'away', isFull: true }
    }
  }

  /** A press that this device does not keep goes to the server at once, after those that wait here. */
  async function sendUnkept(command: Pressed): Promise<Sent | null> {
    const { device } = await from.db.catch(memoryOutboxDb)
    if (from.link.peek() === 'away') return null
    await flush()
    counted += 1
    const own = { seq: counted, command, inDoubt: false, trouble: null }
    return await deliverOne(from.fetch, device, own, attached.get(pictureOf(command) ?? '') ?? null)
  }

  async function keep(
    db: OutboxDb,
    command: Pressed,
    reading: ClockReading,
    trouble: Trouble | null = null,
  ): Promise<QueuedCommand> {
    const name = pictureOf(command) ?? ''
    const own = { command, inDoubt: isInDoubt(reading), trouble }
    try {
      const queued = await db.add(own, attached.get(name))
      counted = queued.seq
      refuses.value = false
      attached.delete(name)
      return queued
    } catch (trouble) {
      refuses.value = true
      throw trouble
    }
  }

  /** Nobody is there to answer: what the rules say against it is said here. */
  async function enqueue(db: OutboxDb, command: Pressed, reading: ClockReading): Promise<Sent> {
    const objects = await rules.objects()
    const against = objects(state.value, command)
    if (against && isDoneOnceSeen(command, against)) return against
    await keep(db, command, reading, against)
    await changed(db)
    if (against) return against
    // The server may have come back just now.
    if (from.link.value !== 'away') void flush()
    return { kind: 'queued', id: command.id }
  }

  function flush(): Promise<boolean> {
    isWanted = true
    running ??= run()
    return running.then(() => queue.value.every(({ trouble }) => trouble !== null))
  }

  async function run(): Promise<void> {
    // Never before `running` has this promise.
    await null
    try {
      const db = await from.db
      do {
        isWanted = false
        await from.alone(() => empty(db))
      } while (isWanted)
    } catch {
      // The database was deleted: no caller may wait forever.
      for (const { answer } of waiting.values()) answer({ kind: 'away' })
      waiting.clear()
    } finally {
      running = null
    }
  }

  /** Sends batch after batch, until nothing is left or nobody answers. */
  async function empty(db: OutboxDb): Promise<void> {
    await hearOthers(db)
    if (from.link.peek() !== 'away') await askAgain(db)
    // Nothing is sent into the dark: until it was, times in doubt may still be put right.
    while (from.link.peek() !== 'away') {
      const open = (await db.all()).filter(({ trouble }) => trouble === null)
      if (open.length === 0) break
      const batch = await Promise.all(batchOf(open, BATCH_MOST).map((one) => dated(db, one)))
      const posted = await deliver(from.fetch, db, batch)
      for (const [i, one] of batch.entries()) await settle(db, one, posted?.[i])
      await nobodyAnswered(db, posted)
      if (posted === null || posted.some(({ sent }) => sent.kind === 'away')) {
        if (from.link.peek() === 'live') void from.wait(AGAIN_MS).then(flush)
        break
      }
    }
    if (from.link.peek() === 'away') await nobodyAnswered(db, null)
    await changed(db)
  }

  /** Once a page: the server may have been updated since it did not know a command. */
  async function askAgain(db: OutboxDb): Promise<void> {
    if (askedAgain !== null) return
    const again = (await db.all()).filter(({ trouble }) => trouble?.kind === 'notKnown')
    askedAgain = new Set(again.map(({ command }) => command.id))
    for (const one of again) await db.put({ ...one, trouble: null })
  }

  /** From its first sending on a command stays as it is. */
  async function dated(db: OutboxDb, one: QueuedCommand): Promise<QueuedCommand> {
    if (!one.inDoubt) return one
    const reading = from.time()
    const right = isInDoubt(reading) ? { ...one, inDoubt: false } : redated(one, reading)
    await db.put(right)
    return right
  }

  async function settle(
    db: OutboxDb,
    one: QueuedCommand,
    posted: Posted | undefined,
  ): Promise<void> {
    if (!posted || posted.sent.kind === 'away' || posted.sent.kind === 'queued') return
    const { sent } = posted
    const press = waiting.get(one.command.id)
    waiting.delete(one.command.id)
    if (sent.kind === 'kept') {
      // At once: the next press is about what this one has changed, and the tail may be slow.
      from.taken(sent.entries)
      await db.remove(one.seq)
    } else if ((press && isDoneOnceSeen(one.command, sent)) || isObsolete(one.command, sent)) {
      await db.remove(one.seq)
    } else {
      const left = { ...one, trouble: sent }
      await db.put(left)
      if (!askedAgain?.has(one.command.id)) from.notTaken(left)
    }
    press?.answer(sent)
  }

  /** Presses of the batches that went unanswered are taken for the time being, or refused by the rules. */
  async function nobodyAnswered(db: OutboxDb, posted: readonly Posted[] | null): Promise<void> {
    if (posted?.every(({ sent }) => sent.kind !== 'away') || waiting.size === 0) return
    const objects = await rules.objects()
    for (const [id, press] of waiting) {
      if (press.queued === null) continue
      waiting.delete(id)
      const { queued: own } = press
      const against = objects(state.value, own.command)
      if (against && isDoneOnceSeen(own.command, against)) await db.remove(own.seq)
      else if (against) await db.put({ ...own, trouble: against })
      await look(db)
      press.answer(against ?? { kind: 'queued', id })
    }
  }

  /** What another page of this device sent meanwhile is asked for again: it is answered as before. */
  async function hearOthers(db: OutboxDb): Promise<void> {
    const all = await db.all()
    for (const [id, press] of waiting) {
      const own = press.queued
      if (own === null) continue
      const inDb = all.find(({ seq }) => seq === own.seq)
      if (inDb && inDb.trouble === null) continue
      const [posted] = inDb ? [] : ((await deliver(from.fetch, db, [own])) ?? [])
      waiting.delete(id)
      if (inDb?.trouble && isDoneOnceSeen(own.command, inDb.trouble)) await db.remove(own.seq)
      press.answer(inDb?.trouble ?? posted?.sent ?? { kind: 'queued', id })
    }
  }

  from.others.hear(() => void from.db.then(look))
  void from.db.then(look)
  effect(() => {
    if (from.link.value === 'live' || from.link.value === 'old') void flush()
  })

  return {
    send,
    attach: (name, picture) => attached.set(name, picture),
    picture: async (name) => attached.get(name) ?? (await (await from.db).picture(name)),
    state,
    queue,
    device,
    notKnown: computed(() => notKnownIn(queue.value, device.value)),
    storage,
    flush,
    async tryAgain(one) {
      const db = await from.db
      await db.put({ ...one, trouble: null })
      await changed(db)
      await flush()
    },
    async discard({ seq }) {
      const db = await from.db
      await db.remove(seq)
      await changed(db)
    },
  }
}

/**
 * A refusal that was read is done with. What cannot be pressed again stays: a picture, and what the
 * server may know once it is updated.
 */
const isDoneOnceSeen = (command: Pressed, { kind }: Trouble): boolean =>
  pictureOf(command) === null && kind !== 'notKnown'

const isInDoubt = ({ sync }: ClockReading): boolean => sync === 'notSynchronised'
