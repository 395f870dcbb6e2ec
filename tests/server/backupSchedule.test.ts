import { Database } from 'bun:sqlite'
import { existsSync, readdirSync, renameSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { KEEP } from '../../machines/contract/backup.ts'
import { damage } from '../../machines/contract/damage.ts'
import { backupInChild } from '../../server/backup/child.ts'
import {
  dueSince,
  healthOf,
  type Kept,
  lateOf,
  NONE,
  nextMs,
  todaysKept,
} from '../../server/backup/due.ts'
import { type ClockedServer, clockedServer, TestComputer } from '../support/clockedServer.ts'
import { note } from '../support/copies.ts'
import { vanInWork } from '../support/serverCommands.ts'
import { dataFolder, killAll, MAIN, ran } from '../support/serverProcess.ts'

const HOUR = 3_600_000
const DAY = 24 * HOUR
const MADRID = 'Europe/Madrid'
const at = (text: string) => Date.parse(text)

describe('when a backup is due', () => {
  const set = (more: Partial<Kept> = {}): Kept => ({
    ...NONE,
    schedule: { folder: '/media/stick', hour: 3, keep: KEEP },
    sinceMs: at('2026-03-27T09:00Z'),
    ...more,
  })
  const done = (atMs: number) => ({ lastDone: { atMs, path: '/x', head: 1, missing: 0 } })
  const failed = (atMs: number) =>
    ({
      lastFailed: { atMs, trouble: { code: 'stopped', params: {} } },
    }) as const

  test('damage that an earlier build kept as a clause is still said', () => {
    const clause = { code: 'damaged', params: { why: 'a byte' } } as const
    expect(todaysKept({ ...set(), lastFailed: { atMs: 5, trouble: clause } })).toEqual({
      ...set(),
      lastFailed: { atMs: 5, trouble: { code: 'failed', params: { reason: 'a byte' } } },
    })
    const found = { position: 4, damage: damage('hash', {}) }
    const lastFailed = { atMs: 5, trouble: { code: 'damaged', params: found } } as const
    expect(todaysKept({ lastFailed })).toEqual({ ...NONE, lastFailed })
    expect(todaysKept({})).toEqual(NONE)
  })

  test('is the hour of the shop, once a day, and first the one after it was set', () => {
    const now = at('2026-03-27T12:00Z')
    expect(dueSince(NONE, now, MADRID)).toBeNull()
    expect(dueSince(set(), now, MADRID)).toBeNull()
    expect(nextMs(set(), now, MADRID)).toBe(at('2026-03-28T02:00Z'))
    const due = at('2026-03-28T02:00Z')
    expect(dueSince(set(), due - 1, MADRID)).toBeNull()
    expect(dueSince(set(), due + 5 * HOUR, MADRID)).toBe(due)
    expect(dueSince(set(done(due + 60_000)), due + 5 * HOUR, MADRID)).toBeNull()
  })

  test('is an hour later after a failure, and at once on another day', () => {
    const due = at('2026-03-28T02:00Z')
    expect(dueSince(set(failed(due + 60_000)), due + HOUR, MADRID)).toBeNull()
    expect(dueSince(set(failed(due + 60_000)), due + HOUR + 60_000, MADRID)).toBe(due)
    expect(dueSince(set(failed(due - HOUR / 2)), due, MADRID)).toBe(due)
  })

  test('is found over the nights in which an hour is left out or comes twice', () => {
    // 2026-03-29: 02:00 to 03:00 do not exist in Madrid; 2026-10-25: 02:00 to 03:00 come twice.
    const two = set({ schedule: { folder: '/x', hour: 2, keep: KEEP } })
    expect(nextMs(two, at('2026-03-28T12:00Z'), MADRID)).toBe(at('2026-03-30T00:00Z'))
    expect(nextMs(set(), at('2026-03-28T12:00Z'), MADRID)).toBe(at('2026-03-29T01:00Z'))
    expect(nextMs(set(), at('2026-10-24T12:00Z'), MADRID)).toBe(at('2026-10-25T02:00Z'))
    // Half an hour off.
    expect(nextMs(set(), at('2026-03-28T12:00Z'), 'Asia/Kolkata')).toBe(at('2026-03-28T21:30Z'))
  })

  test('is not delayed by a clock that was ahead when the last one was made', () => {
    const due = at('2026-03-28T02:00Z')
    expect(dueSince(set(done(due + 400 * DAY)), due, MADRID)).toBe(due)
  })

  test('is late when the last success is more than two days ago, and never without a schedule', () => {
    const last = at('2026-03-28T02:00Z')
    expect(lateOf(set(done(last)), last + 2 * DAY)).toBeNull()
    expect(lateOf(set(done(last)), last + 2 * DAY + 1)).toEqual({ lastMs: last })
    expect(lateOf({ ...set(done(last)), schedule: null }, last + 9 * DAY)).toBeNull()
    expect(lateOf(set(), set().sinceMs + 2 * DAY + 1)).toEqual({ lastMs: null })
  })
})

describe('the health of backups names', () => {
  const last = at('2026-03-28T02:00Z')
  const kept: Kept = {
    ...NONE,
    schedule: { folder: '/media/stick', hour: 3, keep: KEEP },
    lastDone: { atMs: last, path: '/x', head: 1, missing: 0 },
  }
  test.each<[string, Kept, number]>([
    ['notSet', NONE, 0],
    ['ok', kept, 2 * DAY],
    ['late', kept, 2 * DAY + 1],
    [
      'failed',
      { ...kept, lastFailed: { atMs: last, trouble: { code: 'stopped', params: {} } } },
      1,
    ],
  ])('%s', (code, given, afterMs) => {
    expect(healthOf(given, last + afterMs)).toMatchObject({ code })
  })
})

describe('a server with a schedule', () => {
  let place: ReturnType<typeof dataFolder>
  let stick: ReturnType<typeof dataFolder>
  let computer: TestComputer
  let server: ClockedServer
  const runBackup = backupInChild([process.execPath, '--bun', MAIN])
  beforeEach(async () => {
    place = dataFolder()
    stick = dataFolder()
    computer = new TestComputer()
    server = await clockedServer(place.folder, computer, { runBackup })
    await server.post('/api/commands', vanInWork)
  })
  afterEach(async () => {
    await server.stop()
    killAll()
    place.remove()
    stick.remove()
  })

  const folder = () => join(stick.folder, 'backups')
  const schedule = () => ({ folder: folder(), hour: 3, keep: KEEP })
  const set = (given: unknown) => server.post('/api/backup/set', { schedule: given })
  const standing = async () => (await server.get('/api/backup')).body
  const late = async () => (await server.get('/api/state')).body.backup
  const health = async () => (await server.get('/healthz')).body.backup
  const settled = async () => {
    // It gives way to whatever else the computer does.
    await expect.poll(standing).toMatchObject({ running: null })
    return await standing()
  }

  test('makes it at its hour, says when a drive is gone, and is late after two days', async () => {
    expect(await standing()).toMatchObject({ schedule: null, lastDone: null, nextMs: null })
    expect(await set(schedule())).toMatchObject({
      status: 200,
      body: { schedule: schedule(), lastDone: null, isSameDisk: true },
    })
    computer.pass(DAY)
    const first = await settled()
    expect(first).toMatchObject({ lastDone: { head: 8, missing: 0 }, lastFailed: null })
    expect((await ran(['verify', '--data', first.lastDone.path])).code).toBe(0)
    expect(await late()).toBeNull()
    expect(await health()).toEqual({ code: 'ok' })

    renameSync(stick.folder, `${stick.folder}-away`)
    computer.pass(DAY)
    expect(await settled()).toMatchObject({
      lastDone: first.lastDone,
      lastFailed: { trouble: { code: 'folderMissing', params: { folder: folder() } } },
    })
    expect(await late()).toBeNull()
    expect(await health()).toEqual({
      code: 'failed',
      params: { trouble: { code: 'folderMissing', params: { folder: folder() } } },
      message: expect.stringContaining('Connect its drive'),
    })
    computer.pass(DAY)
    await settled()
    computer.pass(HOUR)
    expect(await late()).toEqual({ lastMs: first.lastDone.atMs })
    // It is known after a restart too.
    await server.stop()
    server = await clockedServer(place.folder, computer, { runBackup })
    expect(await late()).toEqual({ lastMs: first.lastDone.atMs })

    renameSync(`${stick.folder}-away`, stick.folder)
    await settled()
    expect(await server.post('/api/backup/now', {})).toMatchObject({
      status: 200,
      body: { running: { step: 'copy' } },
    })
    expect(await settled()).toMatchObject({ lastFailed: null, lastDone: { head: 8 } })
    expect(await late()).toBeNull()
    expect(await health()).toEqual({ code: 'ok' })
    expect(server.reports).toEqual([])
    // None of it is an entry.
    expect(server.state().head).toBe(8)
  })

  test('starts though the disk did not keep the schedule, and says so until it is set again', async () => {
    await set(schedule())
    await server.stop()
    {
      using db = new Database(join(place.folder, 'shop.sqlite'))
      db.run("UPDATE meta SET value = replace(value, 'lastDone', 'lastDoge') WHERE key = 'backup'")
    }
    server = await clockedServer(place.folder, computer, { runBackup })
    expect(await standing()).toMatchObject({ schedule: null })
    expect(await health()).toMatchObject({
      code: 'failed',
      params: { trouble: { code: 'scheduleLost' } },
      message: expect.stringContaining('set them again'),
    })
    expect(await late()).toEqual({ lastMs: null })
    await set(schedule())
    expect(await health()).toEqual({ code: 'ok' })
    expect(await late()).toBeNull()
  })

  test('waits until nobody has pressed for a minute, and two hours at most', async () => {
    await set(schedule())
    const { nextMs: dueMs } = await standing()
    computer.pass(dueMs - computer.wallMs - 10_000)
    for (let i = 0; i < 6; i += 1) {
      await server.post('/api/commands', note(`busy-${i}`))
      computer.pass(30_000)
      expect(await standing()).toMatchObject({ running: null, lastDone: null })
    }
    computer.pass(60_000)
    expect((await settled()).lastDone).not.toBeNull()
  })

  test('refuses a folder that cannot be one, in a sentence, and keeps what was set', async () => {
    await set(schedule())
    for (const given of ['backups', '', '/x\n/y', 7])
      expect(await set({ ...schedule(), folder: given })).toMatchObject({
        status: 400,
        body: {
          error: { field: 'schedule.folder', message: expect.stringContaining('a full path') },
        },
      })
    expect(await set({ ...schedule(), hour: 24 })).toMatchObject({
      status: 400,
      body: { error: { field: 'schedule.hour' } },
    })
    expect(await set({ ...schedule(), folder: join(place.folder, 'b') })).toMatchObject({
      status: 409,
      body: { error: { code: 'noBackup', message: expect.stringContaining('of the log itself') } },
    })
    expect(await set({ ...schedule(), folder: join(stick.folder, 'no', 'such') })).toMatchObject({
      status: 409,
      body: { error: { message: expect.stringContaining('is not there. Connect its drive') } },
    })
    expect((await standing()).schedule).toEqual(schedule())
    expect(await set(null)).toMatchObject({ status: 200, body: { schedule: null } })
    expect(await server.post('/api/backup/now', {})).toMatchObject({
      status: 409,
      body: { error: { code: 'noSchedule' } },
    })
  })

  test('that is stopped in the middle of one leaves nothing that looks whole', async () => {
    await set(schedule())
    await server.post('/api/backup/now', {})
    await server.stop()
    const whole = readdirSync(folder()).filter((name) => /Z$/.test(name))
    for (const name of whole)
      expect((await ran(['verify', '--data', join(folder(), name)])).code).toBe(0)
    server = await clockedServer(place.folder, computer, { runBackup })
    expect(await standing()).toMatchObject(
      whole.length > 0
        ? { lastDone: { head: 8 } }
        : { lastFailed: { trouble: { code: 'stopped' } } },
    )
  })

  test('is none of a practice shop', async () => {
    const other = dataFolder()
    const practice = await clockedServer(other.folder, computer)
    expect((await practice.get('/api/backup')).status).toBe(404)
    expect((await practice.get('/api/state')).body.backup).toBeNull()
    await practice.stop()
    expect(existsSync(join(other.folder, 'backup.sqlite'))).toBe(false)
    other.remove()
  })
})
