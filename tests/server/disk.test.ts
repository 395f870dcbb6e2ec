import { chmodSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { logFileIn } from '../../server/data.ts'
import { watchDisk } from '../../server/log/disk.ts'
import { openLogFile } from '../../server/log/file.ts'
import { storeOn } from '../../server/log/sqlite.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { entriesAfter, firstEntries } from '../support/logEntries.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { get, post, serverProcess } from '../support/serverProcess.ts'
import { TailClient } from '../support/serverTail.ts'

/** A server whose disk fails under it says so by itself, and answers no press that is not kept. */

const place = folderForTests()

const note = (id: string) => command(id, 'AddNote', { job: JOB, text: id })

/** A server on a folder of the place, with the van in work; its kiosks hear its beats. */
async function working() {
  const folder = join(place.folder, 'shop')
  const { url, stop } = await serverProcess(folder)
  expect((await post(`${url}/api/commands`, vanInWork)).status).toBe(200)
  const tail = await TailClient.open(`${url}/api/tail`)
  return {
    ...{ folder, url, stop },
    send: (id: string) => post(`${url}/api/commands`, note(id)),
    health: () => get(`${url}/healthz`),
    /** The trouble that a kiosk is told of: a beat comes every five seconds, and so does a look. */
    heard: (code: string | null) =>
      tail.until(({ data }) => {
        const { disk } = data as { disk?: { code: string } | null }
        return disk !== undefined && (disk?.code ?? null) === code
      }),
  }
}

describe.each([
  ['deleted', (folder: string) => rmSync(folder, { recursive: true })],
  ['moved away', (folder: string) => renameSync(folder, `${folder}-old`)],
  [
    'replaced by an empty one',
    (folder: string) => {
      renameSync(folder, `${folder}-old`)
      mkdirSync(folder)
      writeFileSync(logFileIn(folder), '')
    },
  ],
  ['robbed of the newest entries', (folder: string) => rmSync(`${logFileIn(folder)}-wal`)],
])('a folder that is %s while the server runs', (_what, remove) => {
  test('is said to every kiosk and in its health, and no press is answered as kept', async () => {
    const { folder, send, health, heard } = await working()
    expect(await health()).toMatchObject({ status: 200, body: { disk: { code: 'ok' } } })
    remove(folder)
    expect(await send('n1')).toMatchObject({
      status: 503,
      body: {
        error: { code: 'notStored', message: expect.stringContaining('while the server ran') },
      },
    })
    await heard('gone')
    expect(await health()).toMatchObject({
      status: 503,
      body: {
        ok: false,
        disk: { code: 'gone', message: expect.stringMatching(/nothing is recorded/) },
      },
    })
  })
})

test('a file that cannot be written to is reported before a press, and so is its repair', async () => {
  const { folder, health, heard } = await working()
  chmodSync(logFileIn(folder), 0o444)
  await heard('readOnly')
  expect(await health()).toMatchObject({ status: 503, body: { disk: { code: 'readOnly' } } })
  chmodSync(logFileIn(folder), 0o644)
  await heard(null)
  expect(await health()).toMatchObject({ status: 200, body: { ok: true, disk: { code: 'ok' } } })
})

test('a full disk is reported until a press is stored again', async () => {
  const file = join(place.folder, 'log.sqlite')
  const db = openLogFile(file)
  const disk = watchDisk({ file, every: () => () => {} })
  const store = disk.guarded(storeOn(db))
  await store.append('S1', 0, firstEntries('S1', [{}]))
  const pages = Number(db.query('PRAGMA page_count').values()[0]?.[0])
  db.run(`PRAGMA max_page_count = ${pages + 10}`)
  const big = { data: { note: 'x'.repeat(30_000) } }
  const group = entriesAfter('S1', await store.head('S1'), [big, big, big])
  await expect(store.append('S1', 1, group)).rejects.toMatchObject({ code: 'full' })
  expect(disk.trouble()).toEqual({ code: 'full', params: {} })
  db.run('PRAGMA max_page_count = 100000')
  expect(await store.append('S1', 1, group)).toBe('done')
  expect(disk.trouble()?.code).not.toBe('full')
  await store.close()
})
