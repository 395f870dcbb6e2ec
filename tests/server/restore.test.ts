import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { basename, join } from 'node:path'
import { expect, test } from 'vitest'
import { memoryEntries } from '../../kiosk/commands/entryDb.ts'
import { bookOf } from '../../kiosk/commands/logBook.ts'
import { logMemory } from '../../kiosk/commands/logMemory.ts'
import { logFileIn, markFileIn, photosFolderIn } from '../../server/data.ts'
import { readMark } from '../../server/log/mark.ts'
import { backedUp, entriesOf, filled, note } from '../support/copies.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { get, post, ran, serverProcess } from '../support/serverProcess.ts'

const place = folderForTests()
const stick = folderForTests()

const restore = (from: string, ...more: readonly string[]) =>
  ran(['restore', from, '--data', place.folder, ...more])
const verified = async (folder: string) => (await ran(['verify', '--data', folder])).code

/** What a kiosk remembers of the log, on a real server. */
async function kioskOf(url: { now: string }) {
  const book = bookOf(memoryEntries(), (path, init) => fetch(`${url.now}${path}`, init))
  const memory = logMemory({
    book: async () => book,
    wait: () => new Promise(() => {}),
  })
  const look = async () => {
    memory.loaded((await get(`${url.now}/api/state`)).body)
    await memory.settled()
    return memory.gone.value
  }
  return { look }
}

test('the drill: the disk of the shop is lost with its newest entries, and a kiosk knew them', async () => {
  const server = await serverProcess(place.folder)
  const url = { now: server.url }
  const [photo = ''] = await filled(server, [40])
  const backup = await backedUp(place.folder, stick.folder)
  expect(backup.head).toBe(9)
  const before = await entriesOf(server)
  await post(`${server.url}/api/commands`, [note('after-1'), note('after-2')])
  const kiosk = await kioskOf(url)
  expect(await kiosk.look()).toBeNull()
  const tail = (await get(`${server.url}/api/state`)).body.tail
  await server.stop('SIGKILL')
  rmSync(place.folder, { recursive: true })

  // The folder of all backups: its newest is meant.
  const { code, out, err } = await restore(stick.folder)
  expect({ code, err }).toEqual({ code: 0, err: '' })
  expect(JSON.parse(out)).toMatchObject({
    ok: true,
    from: backup.path,
    head: 9,
    hash: backup.hash,
    movedTo: null,
    beyond: 0,
    photos: { copied: 1, missing: [] },
  })
  expect(await verified(place.folder)).toBe(0)
  expect(existsSync(join(photosFolderIn(place.folder), photo))).toBe(true)

  const again = await serverProcess(place.folder)
  url.now = again.url
  expect(await entriesOf(again)).toEqual(before)
  // The kiosk says what it knew beyond, and its place in the log is one that is not there.
  expect(await kiosk.look()).toMatchObject({
    knownHead: 11,
    head: 9,
    entries: [{ command: 'after-1' }, { command: 'after-2' }],
  })
  const stream = await fetch(`${again.url}/api/tail?after=${tail}`)
  const reader = stream.body?.getReader()
  let heard = ''
  while (reader && !heard.includes('event: reset'))
    heard += new TextDecoder().decode((await reader.read()).value)
  expect(heard).toContain('"unknownTail"')
  await reader?.cancel()
  // The shop goes on from there.
  expect(await post(`${again.url}/api/commands`, note('new'))).toMatchObject({
    status: 200,
    body: { position: 10 },
  })
  expect(await again.stop('SIGTERM')).toEqual({ code: 0, err: '' })
  expect(await verified(place.folder)).toBe(0)
})

test('a log that is there is overwritten only on request, and is then moved aside whole', async () => {
  const server = await serverProcess(place.folder)
  await filled(server, [40])
  const backup = await backedUp(place.folder, stick.folder)
  await post(`${server.url}/api/commands`, note('after'))
  expect(await restore(backup.path, '--replace')).toMatchObject({
    code: 1,
    err: expect.stringMatching(/^Another server is using /),
  })
  // Entries that lie beside the log are moved with it.
  await server.stop('SIGKILL')
  const there = () =>
    Object.fromEntries(
      readdirSync(place.folder)
        .filter((name) => name.startsWith('shop.'))
        .map((name) => [name, readFileSync(join(place.folder, name), 'base64')]),
    )
  const before = there()
  expect(await restore(backup.path)).toMatchObject({
    code: 1,
    out: '',
    err: expect.stringMatching(/holds a log of 10 entries\. Add --replace to move it aside/),
  })
  expect(there()).toEqual(before)

  const { code, out, err } = await restore(backup.path, '--replace')
  expect([code, err]).toEqual([0, expect.stringMatching(/^The shop had 1 more entries than/)])
  const { movedTo, beyond, head } = JSON.parse(out)
  expect([beyond, head]).toEqual([1, 9])
  expect(readMark(markFileIn(place.folder))).toMatchObject({ mark: { head: 9 }, missed: null })
  expect(await verified(place.folder)).toBe(0)
  // What was moved is a log of ten entries still.
  const old = join(place.folder, basename(movedTo))
  expect(readdirSync(old).sort()).toEqual(Object.keys(before).sort())
  cpSync(photosFolderIn(place.folder), photosFolderIn(old), { recursive: true })
  expect(JSON.parse((await ran(['verify', '--data', old])).out)).toMatchObject({
    ok: true,
    head: 10,
  })
})

test('a backup that is not whole is not restored, and nothing is changed', async () => {
  const server = await serverProcess(place.folder)
  await filled(server)
  const { path } = await backedUp(place.folder, stick.folder)
  await server.stop('SIGTERM')
  const whole = readFileSync(logFileIn(path))
  const log = readFileSync(logFileIn(place.folder))
  const changed = Buffer.from(
    whole.toString('latin1').replaceAll('Delivery van', 'Delivery vat'),
    'latin1',
  )
  writeFileSync(logFileIn(path), changed)
  expect(await restore(path, '--replace')).toMatchObject({
    code: 1,
    out: '',
    err: expect.stringMatching(
      /is not as it was written, from entry 4 on: .* Nothing was changed\./,
    ),
  })
  // Cut to half of its pages.
  writeFileSync(logFileIn(path), whole.subarray(0, whole.length / 2))
  expect(await restore(path, '--replace')).toMatchObject({ code: 1, out: '' })
  expect(readFileSync(logFileIn(place.folder))).toEqual(log)
  expect(readdirSync(place.folder).filter((name) => /part|before/.test(name))).toEqual([])
  for (const [from, sentence] of [
    [join(stick.folder, 'nowhere'), /^There is no backup at /],
    [photosFolderIn(stick.folder), /holds no backup|There is no backup/],
  ] as const)
    expect((await restore(from)).err).toMatch(sentence)
})

test('of backups of two shops in one folder one has to be named', async () => {
  const server = await serverProcess(place.folder)
  await filled(server)
  const { path } = await backedUp(place.folder, stick.folder)
  await server.stop('SIGTERM')
  mkdirSync(join(stick.folder, 'flashbell-VANSHAP2-2020-01-01T00-00-00Z'))
  rmSync(place.folder, { recursive: true })
  expect(await restore(stick.folder)).toMatchObject({
    code: 1,
    err: expect.stringContaining('holds backups of several shops. Name one of them: '),
  })
  expect((await restore(path)).code).toBe(0)
})
