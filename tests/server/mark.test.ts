import { Database } from 'bun:sqlite'
import { pbkdf2 } from 'node:crypto'
import { copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { describe, expect, test } from 'vitest'
import { logFileIn, markFileIn, photosFolderIn } from '../../server/data.ts'
import { type KeptMark, openMark, readMark } from '../../server/log/mark.ts'
import { verifyFolder } from '../../server/verifyLog.ts'
import { clockedServer, TestComputer } from '../support/clockedServer.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { JOB, vanInWork } from '../support/serverCommands.ts'
import { ran, serverProcess } from '../support/serverProcess.ts'
import { MINUTE, START_MS } from '../support/serverShop.ts'

const place = folderForTests()

const logFile = () => logFileIn(place.folder)
const note = (id: string) => ({ id, type: 'AddNote', data: { job: JOB, text: id } })
const computer = new TestComputer()
const serve = () => clockedServer(place.folder, computer)

/** Cuts the last entries off with another tool: without the triggers that guard them. */
function cut(above: number): void {
  using db = new Database(logFile())
  db.run('DROP TRIGGER entry_no_delete')
  db.run(`DELETE FROM entry WHERE position > ${above}`)
}

/** A server with the van in work and two notes, stopped: eight entries and two. */
async function stopped(): Promise<void> {
  const server = await serve()
  await server.post('/api/commands', [...vanInWork, note('n1'), note('n2')])
  expect(server.state().head).toBe(10)
  await server.stop()
}

const SHORT = "The server's log ends too early: 3 entries are missing\\. It had 10 on "

describe('a log whose last entries were cut between stop and start', () => {
  test('is reported by serve, healthz, tail, state and verify, with counts, until it is dismissed', async () => {
    await stopped()
    cut(7)
    const verdict = await verifyFolder(place.folder)
    expect(verdict).toMatchObject({ ok: false, position: 8 })
    const server = await serve()
    const said = expect.stringMatching(`^${SHORT}.* and has 7 now\\. Stop the server`)
    expect(server.reports).toEqual([said])
    const loss = { kind: 'short', head: 7, knownHead: 10, knownAtMs: START_MS }
    expect((await server.get('/api/state')).body).toMatchObject({ loss })
    expect((await server.get('/healthz')).body).toMatchObject({
      ok: true,
      log: {
        code: 'short',
        params: { head: 7, knownHead: 10, knownAtMs: START_MS },
        message: said,
      },
    })
    const spanish = await server.app.request('/healthz', {
      headers: { 'Accept-Language': 'es-MX' },
    })
    expect((await spanish.json()).log.message).toMatch(
      /^El registro del servidor termina antes de tiempo: faltan 3 entradas\. .*Detenga el servidor/,
    )
    await server.stop()

    // It stays said over a restart, also when new entries have grown beyond what was known.
    const again = await serve()
    for (const id of ['a', 'b', 'c', 'd', 'e']) await again.post('/api/commands', note(id))
    await again.stop()
    const third = await serve()
    const { knownHash } = (await third.get('/api/state')).body.loss
    expect((await third.get('/api/state')).body).toMatchObject({ loss: { knownHead: 10 } })
    const dismiss = (body: object) => third.post('/api/log/dismiss', body)
    expect(await dismiss({ knownHash: 'none' })).toMatchObject({
      status: 400,
      body: { error: { field: 'knownHash' } },
    })
    expect((await dismiss({ knownHash: '0'.repeat(64) })).body.loss).toMatchObject({
      knownHead: 10,
    })
    expect(await dismiss({ knownHash })).toEqual({ status: 200, body: { loss: null } })
    await third.stop()
    const fourth = await serve()
    expect(fourth.reports).toEqual([])
    await fourth.stop()
    expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, head: 12 })
  })

  test('is well again when the whole log is restored', async () => {
    await stopped()
    copyFileSync(logFile(), `${logFile()}.whole`)
    cut(7)
    await (await serve()).stop()
    for (const beside of ['-wal', '-shm']) rmSync(`${logFile()}${beside}`, { force: true })
    copyFileSync(`${logFile()}.whole`, logFile())
    const server = await serve()
    expect(server.reports).toEqual([])
    expect((await server.get('/healthz')).body).toMatchObject({ log: { code: 'ok' } })
    await server.stop()
  })

  test('is reported too where it has as many entries as before, but others', async () => {
    await stopped()
    copyFileSync(markFileIn(place.folder), `${place.folder}/kept.mark`)
    cut(7)
    const other = await serve()
    for (const id of ['x', 'y', 'z']) await other.post('/api/commands', note(id))
    expect(other.state().head).toBe(10)
    await other.stop()
    copyFileSync(`${place.folder}/kept.mark`, markFileIn(place.folder))
    const server = await serve()
    expect(server.reports).toEqual([
      expect.stringMatching("^The server's log is not the one from before"),
    ])
    expect((await server.get('/api/state')).body.loss).toMatchObject({ kind: 'other', head: 10 })
    await server.stop()
    expect(await verifyFolder(place.folder)).toMatchObject({ ok: false, position: 10 })
  })
})

test('a mark behind the log is not an error: its last write was lost in a power cut', async () => {
  const server = await serve()
  await server.post('/api/commands', vanInWork)
  const kept = readMark(markFileIn(place.folder))
  await server.post('/api/commands', note('n1'))
  await server.stop()
  if (kept) openMarkAt(kept)
  const again = await serve()
  expect(again.reports).toEqual([])
  await again.stop()
  expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, head: 9 })
})

function openMarkAt(kept: KeptMark): void {
  rmSync(markFileIn(place.folder))
  const file = openMark(markFileIn(place.folder))
  file.put(kept)
  file.close()
}

test('a killed server has lost nothing of its mark', async () => {
  const server = await serverProcess(place.folder)
  const all = [...vanInWork, note('n1')]
  const body = JSON.stringify(all)
  const answers = await (await fetch(`${server.url}/api/commands`, { method: 'POST', body })).json()
  await server.stop('SIGKILL')
  expect(readMark(markFileIn(place.folder))?.mark.head).toBe(answers.at(-1).body.position)
})

describe('where a shop was, no new one is begun', () => {
  test.each(['mark', 'photos'])('its log is gone, its %s is there', async (left) => {
    if (left === 'mark') await stopped()
    for (const beside of ['', '-wal', '-shm']) rmSync(`${logFile()}${beside}`, { force: true })
    if (left === 'photos') {
      mkdirSync(photosFolderIn(place.folder), { recursive: true })
      writeFileSync(join(photosFolderIn(place.folder), 'a'.repeat(64)), 'a picture')
    }
    await expect(serve()).rejects.toThrow(/its log is missing or empty\. Restore the newest backup/)
    const { code, err } = await ran(['serve', '--port', '0', '--data', place.folder])
    expect([code, err]).toEqual([
      1,
      expect.stringContaining('To begin a new shop, choose an empty'),
    ])
    // A log with tables and no shop in it is no better.
    writeFileSync(logFile(), '')
    await expect(serve()).rejects.toThrow(/missing or empty/)
  })
})

describe('the mark’s file', () => {
  const marked = (head: number): KeptMark => ({
    mark: { shop: 'SHAPSHAP', head, hash: 'f'.repeat(64), atMs: START_MS + head * MINUTE },
    missed: null,
  })

  test('keeps the newest, and the one before it where a write was torn', () => {
    const path = markFileIn(place.folder)
    expect(readMark(path)).toBeNull()
    const file = openMark(path)
    for (let head = 1; head <= 9; head += 1) file.put(marked(head))
    file.close()
    expect(readMark(path)).toEqual(marked(9))
    const bytes = readFileSync(path)
    for (const place of [0, 1]) {
      const torn = Buffer.from(bytes)
      torn.write('#####', place * 1_024 + 40)
      writeFileSync(path, torn)
      expect([marked(8), marked(9)]).toContainEqual(readMark(path))
    }
    writeFileSync(path, 'no mark at all')
    expect(readMark(path)).toBeNull()
    const again = openMark(path)
    again.put(marked(3))
    again.close()
    expect(readMark(path)).toEqual(marked(3))
  })
})

test('a server that stops before a sync has begun reports no fault of its disk', async () => {
  const path = join(place.folder, 'sync.mark')
  const file = openMark(path)
  file.put({ mark: { shop: 'S1', head: 7, hash: 'h', atMs: START_MS }, missed: null })
  // So much else to do that the sync has to wait for its turn.
  const others = Array.from({ length: 64 }, () => promisify(pbkdf2)('a', 'b', 20_000, 32, 'sha256'))
  const synced = file.sync()
  file.close()
  await synced
  await Promise.all(others)
  expect(readMark(path)?.mark.head).toBe(7)
})
