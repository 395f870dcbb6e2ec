import fc from 'fast-check'
import { afterEach, describe, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import { fold } from '../../machines/fold.ts'
import type { Refusal } from '../../machines/refusals.ts'
import { emptyState, FOLD_VERSION, type State } from '../../machines/state.ts'
import type { Thing } from '../../machines/things.ts'
import type { Writer } from '../../server/handle.ts'
import { emptyHead, verify } from '../../server/log/chain.ts'
import { inPages, type Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import type { Answer } from '../../server/problems.ts'
import { allKept } from '../support/allKept.ts'
import { logFolder } from '../support/logFiles.ts'
import { failingStore, lateStore } from '../support/logStores.ts'
import { patience, tries } from '../support/randomRuns.ts'
import { anyHistory, type Step } from '../support/serverHistories.ts'
import { MINUTE, openTestShop, TestClock, type TestShop } from '../support/serverShop.ts'

const opened: Store[] = []
const places: (() => void)[] = []
afterEach(async () => {
  for (const store of opened.splice(0)) await store.close()
  for (const remove of places.splice(0)) remove()
})

/** A store in a file that is closed when the test is over. */
function onDisk(): { readonly open: () => Store } {
  const { file, remove } = logFolder()
  places.push(remove)
  return {
    open: () => {
      const store = sqliteStore(file)
      opened.push(store)
      return store
    },
  }
}

type Made = { readonly open: () => Store }

/** In memory the store outlives the server that releases it; on disk it is opened again. */
const stores: Readonly<Record<string, { make: () => Made; often: ReturnType<typeof tries> }>> = {
  'in memory': {
    often: tries(40),
    make: () => {
      const store = memoryStore()
      return { open: () => store }
    },
  },
  'in SQLite': { often: tries(10), make: onDisk },
  'in SQLite, answering late': {
    often: tries(5),
    make: () => {
      const made = onDisk()
      return { open: () => lateStore(made.open()) }
    },
  },
}

/**
 * Handles a command and waits until the writer is at rest: after the answer it may evict what is over,
 * which no later command has done.
 */
async function answerOf({ shops: { ownWriter } }: TestShop, input: object): Promise<Answer> {
  const answer = await ownWriter.handle(input)
  for (let turn = 0; turn < 3; turn += 1) await new Promise((done) => setImmediate(done))
  return answer
}

type Played = { readonly input: object; readonly answer: Answer; readonly before: State }

async function* play(shop: TestShop, steps: readonly Step[]): AsyncGenerator<Played> {
  const { clock, shops } = shop
  const { ownWriter } = shops
  for (const [i, step] of steps.entries()) {
    clock.advance(step.minutes * MINUTE)
    const before = ownWriter.state()
    const input = step.make(`h${i}`, { now: clock.now(), state: before })
    yield { input, before, answer: await answerOf(shop, input) }
  }
}

async function playAll(shop: TestShop, steps: readonly Step[]): Promise<Answer[]> {
  const answers: Answer[] = []
  for await (const { answer } of play(shop, steps)) answers.push(answer)
  return answers
}

/** A thing without the entries that were voided and their voids: of old air some hold them and some do not. */
function withoutVoided<T extends Thing>(thing: T): T {
  const voids = new Set(thing.entries.flatMap(({ data }) => data.entry ?? []))
  const entries = thing.entries.filter(({ id, type }) => type !== 'EntryVoided' && !voids.has(id))
  return { ...thing, entries }
}

/**
 * Open work only. Since when its past is held depends on what was known when it was evicted, and
 * decides nothing but whether it is read again.
 */
function evicted(state: State, { clock }: TestShop): State {
  const open = evict(state, clock.now())
  const { things, ...rest } = allKept(open)
  const unmarked = <T extends Thing>(of: { readonly [id: string]: T }) =>
    Object.fromEntries(
      Object.entries(of).map(([id, { heldMs: _, ...thing }]) => [id, withoutVoided(thing as T)]),
    )
  const [zone, gun] = [unmarked(things.zone), unmarked(things.gun)]
  return { ...rest, things: { ...things, zone, gun, devices: unmarked(things.devices) } }
}

/** The log folded from its first entry, by the fold alone. */
async function foldedAlone(writer: Writer): Promise<State> {
  let state = emptyState(writer.shop, emptyHead(writer.shop).hash)
  for await (const entry of inPages(writer.reader.page)) state = fold(state, entry)
  return state
}

/** A refusal's sentence and its parts, without what they name. */
const wordless = ({ problems = [] }: { code: string; problems?: Refusal['problems'] }) => ({
  params: {},
  problems: problems.map(({ code, panel, params: { value } }) => ({ code, panel, value })),
})

/**
 * What an answer says, except for the sentences and their parts, which name what is in memory, and for
 * the hash, which they are part of: an override keeps the names of the panels in the order in which they lie there.
 */
const saidBy = ({ status, body }: Answer) => ({
  status,
  ...('entries' in body
    ? { entries: body.entries.map((e) => ({ ...e, hash: '', override: e.override?.codes })) }
    : {}),
  ...('refusal' in body ? { refusal: { ...body.refusal, ...wordless(body.refusal) } } : {}),
  ...('error' in body ? { error: { ...body.error } } : {}),
})

/**
 * Left out: a bell that nobody rang for a week after its cup was over is not waited for any more;
 * and a pause is recorded for each panel in the order in which memory holds them.
 */
const isComparable = ({ what }: Step) => what !== 'ring' && !/PauseJob|ResumeJob/.test(what)

test('what a shop evicts changes no decision', { timeout: patience }, () =>
  fc.assert(
    fc.asyncProperty(anyHistory, fc.integer({ min: 3, max: 30 }), async (steps, every) => {
      const open = async (snapshotEvery: number) => {
        const store = memoryStore()
        await store.putMeta('shop', 'SHAPSHAP')
        return await openTestShop({ store, snapshotEvery })
      }
      const [whole, lean] = [await open(1_000), await open(every)]
      for (const [i, step] of steps.filter(isComparable).entries()) {
        for (const { clock } of [whole, lean]) clock.advance(step.minutes * MINUTE)
        const at = { now: whole.clock.now(), state: whole.shops.ownWriter.state() }
        const input = step.make(`h${i}`, at)
        const [wanted, answer] = [
          await whole.shops.ownWriter.handle(input),
          await lean.shops.ownWriter.handle(input),
        ]
        expect(saidBy(answer)).toEqual(saidBy(wanted))
      }
    }),
    tries(60),
  ),
)

describe.each(Object.entries(stores))(
  'a shop %s',
  { timeout: patience },
  (_name, { make, often }) => {
    const check = (property: (steps: readonly Step[]) => Promise<void>) =>
      fc.assert(fc.asyncProperty(anyHistory, property), often)

    test('a command that is not accepted appends nothing and leaves the state as it was', () =>
      check(async (steps) => {
        const shop = await openTestShop({ store: make().open() })
        for await (const { answer, before } of play(shop, steps)) {
          if (answer.status === 200) continue
          expect(shop.shops.ownWriter.state()).toBe(before)
          expect((await shop.store.head(shop.shops.own)).position).toBe(before.head)
          expect([400, 409]).toContain(answer.status)
        }
        expect(shop.reports).toEqual([])
      }))

    test('a command sent again appends nothing and is answered the same', () =>
      check(async (steps) => {
        const shop = await openTestShop({ store: make().open() })
        const { ownWriter } = shop.shops
        const accepted: Played[] = []
        for await (const played of play(shop, steps)) {
          if (played.answer.status === 200) accepted.push(played)
        }
        const after = ownWriter.state()
        for (const { input, answer } of accepted) {
          expect(await ownWriter.handle(input)).toEqual(answer)
          expect(await ownWriter.handle({ ...input, source: 'other' })).toMatchObject({
            status: 409,
            body: { refusal: { code: 'commandIdReused' } },
          })
        }
        expect(ownWriter.state()).toBe(after)
      }))

    test('commits that fail leave the state before them, and all is well when they are sent again', () =>
      fc.assert(
        fc.asyncProperty(anyHistory, fc.infiniteStream(fc.boolean()), async (steps, fails) => {
          const { store, failNextAppend } = failingStore(make().open())
          const shop = await openTestShop({ store })
          const { ownWriter } = shop.shops
          for (const [i, step] of steps.entries()) {
            shop.clock.advance(step.minutes * MINUTE)
            const before = ownWriter.state()
            const input = step.make(`h${i}`, { now: shop.clock.now(), state: before })
            if (!fails.next().value) {
              await answerOf(shop, input)
              continue
            }
            failNextAppend()
            const answer = await answerOf(shop, input)
            expect(ownWriter.state()).toBe(before)
            expect((await store.head(shop.shops.own)).position).toBe(before.head)
            if (answer.status === 400) continue
            expect(answer).toMatchObject({
              status: 503,
              body: {
                error: {
                  code: 'notStored',
                  params: { reason: 'full' },
                },
              },
            })
            expect((await answerOf(shop, input)).status).not.toBe(503)
          }
          expect(evicted(ownWriter.state(), shop)).toEqual(
            evicted(await foldedAlone(ownWriter), shop),
          )
        }),
        often,
      ))

    test('after a restart the state is what it was, from a snapshot and from the log alone', () =>
      fc.assert(
        fc.asyncProperty(anyHistory, fc.integer({ min: 3, max: 30 }), async (steps, every) => {
          const made = make()
          const clock = new TestClock()
          const live = await openTestShop({ store: made.open(), clock, snapshotEvery: every })
          await playAll(live, steps)
          const was = evicted(live.shops.ownWriter.state(), live)
          expect(evicted(await foldedAlone(live.shops.ownWriter), live)).toEqual(was)

          const again = await openTestShop({ store: made.open(), clock, snapshotEvery: every })
          expect(evicted(again.shops.ownWriter.state(), live)).toEqual(was)
          await live.store.putSnapshot(
            live.shops.own,
            String(FOLD_VERSION),
            was.head,
            '{"half a sna',
          )
          const alone = await openTestShop({ store: made.open(), clock, snapshotEvery: every })
          expect(evicted(alone.shops.ownWriter.state(), live)).toEqual(was)

          await alone.shops.close()
          const closed = await openTestShop({ store: made.open(), clock, snapshotEvery: 1_000 })
          expect(evicted(closed.shops.ownWriter.state(), live)).toEqual(was)
          const { own } = closed.shops
          const verdict = await verify(
            own,
            inPages((page) => closed.store.raw(own, page)),
          )
          expect(verdict).toMatchObject({ ok: true, head: { position: was.head } })
        }),
        often,
      ))
  },
)
