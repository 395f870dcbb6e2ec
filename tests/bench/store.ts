import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { deadlines } from '../../machines/deadlines.ts'
import type { Entry } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import { emptyState, type State } from '../../machines/state.ts'
import { undoubted } from '../../server/clock.ts'
import { emptyHead, seal } from '../../server/log/chain.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { openShops } from '../../server/shops.ts'
import { say, title } from './figures.ts'
import { rawCommitter } from './rawCommits.ts'

/** What keeping, folding and answering cost, against what the machine's disk and JSON cost by themselves. */

const ROUNDS = 3
const GOLDEN = fileURLToPath(new URL('../logs/0.1.0-van.jsonl', import.meta.url))
const text = readFileSync(GOLDEN, 'utf8').trim().split('\n')
const golden = text.map((line) => JSON.parse(line) as Entry)

let folder: string | null = null
let files = 0
const fresh = () => {
  folder ??= mkdtempSync(join(tmpdir(), 'flashbell-bench-'))
  files += 1
  return join(folder, `${files}.db`)
}

/** Median seconds of a piece of work over the rounds. */
async function seconds(work: () => Promise<void> | void): Promise<number> {
  const all: number[] = []
  for (let round = 0; round < ROUNDS; round += 1) {
    const start = performance.now()
    await work()
    all.push((performance.now() - start) / 1000)
  }
  return all.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number
}

async function appendEntries(count: number): Promise<void> {
  const shop = 'BENCHMRK'
  const store = sqliteStore(fresh())
  let { hash } = emptyHead(shop)
  for (let i = 1; i <= count; i += 1) {
    const { hash: _hash, ...entry } = golden[0] as Entry
    const sealed = seal(shop, hash, {
      ...entry,
      shop,
      position: i,
      seq: i,
      id: `b${i}.0`,
      command: `b${i}`,
    })
    hash = sealed.hash
    await store.append(shop, i - 1, [sealed])
  }
  await store.close()
}

/** Commands from several kiosks at once: each kiosk waits for its answer before it sends the next. */
async function commands(count: number, kiosks: number): Promise<void> {
  const store = sqliteStore(fresh())
  const clock = {
    now: () => Date.now(),
    every: () => () => {},
    standing: () => undoubted(Date.now()),
  }
  const shops = await openShops({ store, clock, report: console.error, timeZone: 'UTC' })
  const one = async (kiosk: number) => {
    for (let i = 0; i < count / kiosks; i += 1) {
      const id = `k${kiosk}-${i}`
      await shops.ownWriter.handle({ id, type: 'CleanGun', data: { gun: `gun-${kiosk}` } })
    }
  }
  await Promise.all(Array.from({ length: kiosks }, (_, kiosk) => one(kiosk)))
  await shops.close()
  await store.close()
}

/** The median of the folds of a van's panel entries, each by itself, in us. */
function panelEntryUs(first: State): number {
  const all: number[] = []
  for (let round = 0; round < 20; round += 1) {
    let state = first
    for (const entry of golden) {
      const start = performance.now()
      state = fold(state, entry)
      if (round > 0 && entry.panel !== undefined) all.push((performance.now() - start) * 1000)
    }
  }
  return all.sort((a, b) => a - b)[Math.floor(all.length / 2)] ?? Number.NaN
}

const N = 1_000

export async function store(): Promise<void> {
  title('The log and its folding')
  const first = emptyState(golden[0]?.shop ?? '', emptyHead(golden[0]?.shop ?? '').hash)
  const limit = rawCommitter()
  const raw = await seconds(() => limit.commit(N))
  limit.close()
  const append = await seconds(() => appendEntries(N))
  const alone = await seconds(() => commands(N, 1))
  const sixteen = await seconds(() => commands(N, 16))
  const parse = await seconds(() => {
    for (let i = 0; i < 20; i += 1) for (const line of text) JSON.parse(line)
  })
  const folded = await seconds(() => {
    for (let i = 0; i < 20; i += 1) golden.reduce(fold, first)
  })
  const panelUs = panelEntryUs(first)
  const busy = golden.slice(0, 90).reduce(fold, first)
  const deadlineSeconds = await seconds(() => {
    for (let i = 0; i < 1_000; i += 1) deadlines({ ...busy })
  })
  const commit = raw / N
  say('raw durable commits', 1 / commit, '/s')
  say('appends of one entry / raw durable commits', raw / append, 'x', '(target 0.85)')
  say('commands from one kiosk / raw durable commits', raw / alone, 'x', '(target 0.60)')
  say('commands from sixteen kiosks / raw durable commits', raw / sixteen, 'x', '(target 2.5)')
  say('fold of the van’s log / reading it as JSON', folded / parse, 'x')
  const one = folded / (20 * golden.length)
  say('one entry folded, of a durable commit', one / commit, 'x', '(target 0.15)')
  say('a panel entry folded, of a durable commit', panelUs / 1e6 / commit, 'x', '(target 0.15)')
  say('a panel entry folded', panelUs, 'us', '(target 30)')
  say('all deadlines of the van’s job, of a durable commit', deadlineSeconds / 1_000 / commit, 'x')
  if (folder !== null) rmSync(folder, { recursive: true, force: true })
}
