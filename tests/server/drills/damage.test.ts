import {
  cpSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type BackupSchedule, KEEP } from '../../../machines/contract/backup.ts'
import type { Entry } from '../../../machines/envelope.ts'
import { backupInChild } from '../../../server/backup/child.ts'
import { logFileIn, Usable } from '../../../server/data.ts'
import { LogError } from '../../../server/log/log.ts'
import { type ClockedServer, clockedServer, TestComputer } from '../../support/clockedServer.ts'
import { entriesOf, note } from '../../support/copies.ts'
import { type Drill, drill, drillPatience, type SeededDice } from '../../support/drill.ts'
import { command, vanInWork } from '../../support/serverCommands.ts'
import { dataFolder, MAIN, post, serverProcess } from '../../support/serverProcess.ts'
import { MINUTE } from '../../support/serverShop.ts'

/**
 * Cuts and flipped bytes anywhere in the log's file and its write-ahead log: each is told sooner or
 * later, or shown not to matter: everything is served as it was recorded, and the whole log verifies.
 */

type Base = {
  readonly folder: string
  readonly entries: readonly object[]
  readonly schedule: BackupSchedule
}
let closed: Base
let killed: Base
let large: Base
const made: (() => void)[] = []
beforeAll(async () => {
  closed = await shopThat('SIGTERM')
  killed = await shopThat('SIGKILL')
  large = await shopThat('SIGTERM', 4_500)
  expect(statSync(logFileIn(large.folder)).size).toBeGreaterThan(4_000_000)
})
afterAll(() => {
  for (const remove of made) remove()
})

const runBackup = backupInChild([process.execPath, '--bun', MAIN])

/**
 * A shop whose server was stopped, or was killed with entries in its WAL. Above 4 MB its file is not read
 * whole at every start.
 */
async function shopThat(signal: 'SIGTERM' | 'SIGKILL', readings = 400): Promise<Base> {
  const { folder, remove } = dataFolder()
  made.push(remove, () => rmSync(`${folder}-backups`, { recursive: true, force: true }))
  const first = await serverProcess(folder)
  await post(`${first.url}/api/commands`, vanInWork)
  for (let n = 0; n < readings; n += 100) {
    const air = Array.from({ length: 100 }, (_, i) =>
      command(`air-${n + i}`, 'ReadClimate', { zone: 'booth', airC: 18 + (i % 7), rh: 0.5 }),
    )
    await post(`${first.url}/api/commands`, air)
  }
  const schedule = { folder: `${folder}-backups`, hour: 3, keep: KEEP }
  expect((await post(`${first.url}/api/backup/set`, { schedule })).status).toBe(200)
  if (signal === 'SIGTERM') {
    const entries = await entriesOf(first)
    await first.stop(signal)
    return { folder, entries, schedule }
  }
  // Stopped once in between: the file has most of it, the WAL the end.
  await first.stop('SIGTERM')
  const second = await serverProcess(folder)
  for (let n = 0; n < 30; n += 1) await post(`${second.url}/api/commands`, note(`n-${n}`))
  const entries = await entriesOf(second)
  await second.stop(signal)
  return { folder, entries, schedule }
}

type Harm = (path: string, dice: SeededDice) => string

/** One bit, within a stretch that is chosen in the bytes. */
const flipIn =
  (stretch: (bytes: Buffer, dice: SeededDice) => readonly [from: number, to: number]): Harm =>
  (path, dice) => {
    const bytes = readFileSync(path)
    const [from, to] = stretch(bytes, dice)
    const at = dice.between(from, to - 1)
    bytes[at] = (bytes[at] ?? 0) ^ (1 << dice.below(8))
    writeFileSync(path, bytes)
    return `byte ${at}`
  }

const flip = flipIn((bytes) => [0, bytes.length])
/** What says how the file is read (sqlite.org/fileformat.html, the database header). */
const flipHeader = flipIn(() => [0, 100])
/** What lies beside the entries: the shop's id, how the last look ended, the schedule of backups. */
const flipBeside = flipIn((bytes) => {
  const at = bytes.toString('latin1').search(/backup[0-9a-f]{8} /)
  expect(at).toBeGreaterThan(0)
  return [at - 80, at + 200]
})

/** How the text of an entry ends; in a snapshot its hash follows. */
const END_OF_ENTRY = '"type":"ClimateRead","version":1,"zone":"booth"}'
/** In the text of an entry, wherever in the file that lies. */
const flipEntry = flipIn((bytes, dice) => {
  const found = bytes.indexOf(END_OF_ENTRY, dice.below(bytes.length))
  const end = (found === -1 ? bytes.indexOf(END_OF_ENTRY) : found) + END_OF_ENTRY.length
  return [end - 200, end]
})

const cut: Harm = (path, dice) => {
  const { length } = readFileSync(path)
  const at = dice.below(length)
  truncateSync(path, at)
  return `cut at ${at} of ${length}`
}

/** What a damaged shop does, from its start until all of it was looked through. */
async function outcomeOf(folder: string, { entries, schedule }: Base): Promise<string> {
  // Later than anything that was recorded: the entries are of the real clock.
  const computer = new TestComputer(Date.now() + MINUTE)
  let server: ClockedServer
  try {
    server = await clockedServer(folder, computer, { runBackup })
  } catch (error) {
    // A sentence for the person who starts it, not a fault.
    if (error instanceof LogError || error instanceof Usable) return 'not started'
    throw error
  }
  try {
    const told = async () => {
      const { body } = await server.get('/api/state')
      return body.loss !== null || body.disk !== null || body.backup !== null
    }
    if (await told()) return 'said at start'
    // After a kill within a minute, else when nobody has pressed for ten.
    computer.pass(11 * MINUTE)
    const checked = async () => (await server.get('/api/watching')).body.log.check
    await expect
      .poll(checked, { timeout: drillPatience / 4 })
      .toMatchObject({ lastMs: expect.any(Number), isRunning: false })
    if (await told()) return 'said when idle'
    expect(await servedBy(server)).toEqual(entries)
    expect((await server.get('/api/backup')).body.schedule).toEqual(schedule)
    return 'does not matter'
  } finally {
    await server.stop()
  }
}

async function servedBy(server: ClockedServer): Promise<readonly Entry[]> {
  const all: Entry[] = []
  for (;;) {
    const { body } = await server.get(`/api/entries?after=${all.length}&limit=1000`)
    all.push(...body.entries)
    if (body.entries.length < 1_000) return all
  }
}

async function harmed(base: Base, side: '' | '-wal', harm: Harm, { dice, count }: Drill) {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-damage-'))
  try {
    cpSync(base.folder, folder, { recursive: true })
    const where = harm(`${logFileIn(folder)}${side}`, dice)
    const outcome = await outcomeOf(folder, base).catch((error) => {
      throw new Error(`${where}: ${error instanceof Error ? error.message : error}`, {
        cause: error,
      })
    })
    count(outcome)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

describe('every damaged byte is reported, or changes nothing', { timeout: drillPatience }, () => {
  test.each([
    ['flipped bytes of a closed file', () => closed, '', flip, { small: 8, long: 200 }],
    ['flipped bytes of a file of many', () => large, '', flip, { small: 1, long: 100 }],
    ['flipped bytes of entries among many', () => large, '', flipEntry, { small: 2, long: 100 }],
    ['flipped bytes of a killed server’s file', () => killed, '', flip, { small: 4, long: 100 }],
    ['flipped bytes of a write-ahead log', () => killed, '-wal', flip, { small: 6, long: 100 }],
    ['flipped bytes of a file’s header', () => closed, '', flipHeader, { small: 3, long: 50 }],
    ['flipped bytes beside the entries', () => closed, '', flipBeside, { small: 6, long: 100 }],
    ['cuts of a closed file', () => closed, '', cut, { small: 4, long: 100 }],
    ['cuts of a killed server’s file', () => killed, '', cut, { small: 3, long: 50 }],
    ['cuts of a write-ahead log', () => killed, '-wal', cut, { small: 5, long: 100 }],
  ] as const)('%s', async (name, base, side, harm, often) => {
    const run = drill(name, often)
    for (let round = 0; round < run.rounds; round += 1) await harmed(base(), side, harm, run)
    run.done()
    const outcomes = ['not started', 'said at start', 'said when idle', 'does not matter']
    expect(outcomes.reduce((sum, one) => sum + run.counted(one), 0)).toBe(run.rounds)
    // Of an entry every bit matters.
    if (harm === flipEntry) expect(run.counted('does not matter')).toBe(0)
  })
})
