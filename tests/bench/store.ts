import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Entry } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import { emptyState } from '../../machines/state.ts'
import { undoubted } from '../../server/clock.ts'
import { writtenOf } from '../../server/log/canonical.ts'
import { emptyHead, seal } from '../../server/log/chain.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { openShops } from '../../server/shops.ts'
import { median } from './figures.ts'
import { cycles, SETUP, type Sent } from './load.ts'
import { openPeer } from './peer.ts'
import { rawStore } from './rawCommits.ts'
import { oursAtMost, part, ratioAtLeast, ratioAtMost } from './table.ts'

/**
 * What keeping, folding and answering cost, commit by commit in turn with the disk's own limit; and then the store
 * alone, in turn with the limit and a peer: what drifts on the machine or shares it shows in all of them. The peer is
 * not beside the whole path: what a library of its own leaves in the processor's caches and in memory is not ours.
 */

const ROUNDS = 6
const EACH = 140
/** Rounds before anything counts: until then the engine still compiles what a day runs through. */
const WARM = 12
/** How much time of the shop passes with a command: jobs close and are evicted, as on any day. */
const STEP_MS = 30_000

const WHOLE = 'a command, whole path / raw durable commit'
const CPU = 'processor time of a command without HTTP'
const ALONE = 'the store alone / raw durable commit'
const PEER = 'the store alone / act-sqlite 1.19.4'
const FOLDED = 'a panel entry folded / raw durable commit'
const PANEL = 'a panel entry folded'
const READ = 'the log of a van folded / read as JSON'

const PROMISED = {
  [WHOLE]: ratioAtLeast(0.6, 0.85),
  [CPU]: oursAtMost(200),
  [ALONE]: ratioAtLeast(0.85),
  [PEER]: ratioAtLeast(1.5),
  [FOLDED]: ratioAtMost(0.15),
  [PANEL]: oursAtMost(30),
  [READ]: ratioAtMost(1.5),
}

/** `raw` is beside the whole path, `limit` the same beside the store alone. */
const KINDS = ['whole', 'raw', 'alone', 'limit', 'peer'] as const
type Kind = (typeof KINDS)[number]
const each = <T>(make: () => T): Record<Kind, T> => ({
  ...{ whole: make(), raw: make() },
  ...{ alone: make(), limit: make(), peer: make() },
})

export const store = part('store', PROMISED, async (put) => {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-bench-'))
  const raw = rawStore(folder)
  const peer = await openPeer(join(folder, 'peer.db'))
  const whole = await openWhole(join(folder, 'whole.db'))
  const alone = sqliteStore(join(folder, 'alone.db'))
  try {
    for (const command of SETUP) await whole.send(command)
    const sealed = chain(whole.shop)
    const load = cycles(0)
    const us = each((): number[] => [])
    const cpuUs = each(() => 0)
    const ratios = each((): number[] => [])
    for (let round = -WARM; round < ROUNDS; round += 1) {
      const times = each((): number[] => [])
      const timed = async (kind: Kind, work: () => unknown) => {
        const cpu = process.cpuUsage()
        const begin = performance.now()
        await work()
        times[kind].push((performance.now() - begin) * 1_000)
        const { user, system } = process.cpuUsage(cpu)
        if (round >= 0) cpuUs[kind] += user + system
      }
      const groups: (readonly Entry[])[] = []
      for (let n = 0; n < EACH; n += 1) {
        const command = load.next().value
        let entries: readonly Entry[] = []
        await timed('whole', async () => {
          entries = await whole.send(command)
        })
        const texts = textsOf(entries)
        await timed('raw', () => raw.commit(texts))
        groups.push(entries)
      }
      for (const entries of groups) {
        const texts = textsOf(entries)
        await timed('limit', () => raw.commit(texts))
        const own = sealed(entries)
        await timed('alone', () => alone.append(whole.shop, own.after, own.entries))
        await timed('peer', () => peer?.append(entries))
      }
      if (round < 0) continue
      for (const kind of KINDS) us[kind].push(...times[kind])
      ratios.whole.push(median(times.raw) / median(times.whole))
      ratios.alone.push(median(times.limit) / median(times.alone))
      ratios.peer.push(median(times.peer) / median(times.alone))
    }
    const limit = { what: 'raw', value: median(us.raw) }
    const count = ROUNDS * EACH
    const rawCpu = { what: 'raw', value: cpuUs.raw / count }
    put(WHOLE, { ours: median(us.whole), unit: 'us', limit, ratio: median(ratios.whole) })
    put(CPU, { ours: cpuUs.whole / count, unit: 'us', limit: rawCpu })
    const ofAlone = { ours: median(us.alone), unit: 'us' }
    const beside = { what: 'raw', value: median(us.limit) }
    put(ALONE, { ...ofAlone, limit: beside, ratio: median(ratios.alone) })
    const slower = { what: 'act-sqlite', value: median(us.peer) }
    if (peer === null) put(PEER, { why: 'the peer is not installed' })
    else put(PEER, { ...ofAlone, limit: slower, ratio: median(ratios.peer) })
    folding(limit.value)
  } finally {
    await whole.close()
    await alone.close()
    raw.close()
    await peer?.close()
    rmSync(folder, { recursive: true, force: true })
  }

  /** @param commitUs a raw commit of the same run */
  function folding(commitUs: number) {
    const { panelUs, foldUs, parseUs } = foldOfVan()
    const panel = { ours: panelUs, unit: 'us', limit: { what: 'raw', value: commitUs } }
    put(FOLDED, panel)
    put(PANEL, panel)
    put(READ, { ours: foldUs, unit: 'us', limit: { what: 'JSON', value: parseUs } })
  }
})

const textsOf = (entries: readonly Entry[]) => entries.map((entry) => writtenOf(entry).text)

/** A shop on a file, its commands by the whole path but for HTTP. */
async function openWhole(path: string) {
  const kept = sqliteStore(path)
  let nowMs = Date.now()
  const now = () => nowMs
  const clock = { now, every: () => () => {}, standing: () => undoubted(now()) }
  const report = (error: unknown) => process.stderr.write(`${error}\n`)
  const shops = await openShops({ store: kept, clock, report, timeZone: () => 'UTC' })
  return {
    shop: shops.own,
    send: async (command: Sent): Promise<readonly Entry[]> => {
      nowMs += STEP_MS
      const { status, body } = await shops.ownWriter.handle(command)
      if (status !== 200 || !('entries' in body))
        throw new Error(`${JSON.stringify(command)} was answered ${JSON.stringify(body)}`)
      return body.entries
    },
    close: async () => {
      await shops.close()
      await kept.close()
    },
  }
}

/** Seals entries again, one upon the other, for a store that has none yet. */
function chain(shop: string) {
  let { position, hash } = emptyHead(shop)
  return (entries: readonly Entry[]) => {
    const after = position
    const sealed = entries.map(({ hash: _, ...entry }) => {
      position += 1
      const one = seal(shop, hash, { ...entry, position })
      hash = one.hash
      return one
    })
    return { after, entries: sealed }
  }
}

const GOLDEN = fileURLToPath(new URL('../logs/0.1.0-van.jsonl', import.meta.url))
const FOLDS = 20

/** Folding the log of a van, us: one panel entry (median), and one entry of any kind, beside reading it. */
function foldOfVan() {
  const lines = readFileSync(GOLDEN, 'utf8').trim().split('\n')
  const golden = lines.map((line) => JSON.parse(line) as Entry)
  const shop = golden[0]?.shop ?? ''
  const first = emptyState(shop, emptyHead(shop).hash)
  const panels: number[] = []
  const all: number[] = []
  const parses: number[] = []
  for (let round = 0; round < FOLDS; round += 1) {
    let state = first
    const begin = performance.now()
    for (const entry of golden) {
      const at = performance.now()
      state = fold(state, entry)
      if (round > 0 && entry.panel !== undefined) panels.push((performance.now() - at) * 1_000)
    }
    all.push(((performance.now() - begin) * 1_000) / golden.length)
    const parsing = performance.now()
    for (const line of lines) JSON.parse(line)
    parses.push(((performance.now() - parsing) * 1_000) / golden.length)
  }
  return { panelUs: median(panels), foldUs: median(all), parseUs: median(parses) }
}
