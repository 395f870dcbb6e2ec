import { Database } from 'bun:sqlite'
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { basename, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { logFileIn, markFileIn, photosFolderIn } from '../../server/data.ts'
import { readMark } from '../../server/log/mark.ts'
import { backedUp, entriesOf, filled, note } from '../support/copies.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { withLittleRoom } from '../support/media.ts'
import { dataFolder, killedAt, post, ran, serverProcess } from '../support/serverProcess.ts'

const place = folderForTests()
const stick = folderForTests()

const verified = async (folder: string) => {
  const { code, out, err } = await ran(['verify', '--data', folder])
  return { code, err, verdict: out === '' ? null : JSON.parse(out) }
}
const namesIn = (folder: string) => readdirSync(folder).sort()

/** Clients that write one note after another until they are stopped. @returns how many were taken */
function writers(url: string, count: number) {
  let isOver = false
  const each = Array.from({ length: count }, async (_, client) => {
    let taken = 0
    for (; !isOver; taken += 1) {
      const { status } = await post(`${url}/api/commands`, note(`c${client}-${taken}`))
      if (status !== 200) throw new Error(`note ${taken} of client ${client}: ${status}`)
    }
    return taken
  })
  return async () => {
    isOver = true
    return (await Promise.all(each)).reduce((sum, taken) => sum + taken, 0)
  }
}

describe('flashbell backup while four clients write', () => {
  test('is of one moment, whole, with mark and pictures, and every client is answered', async () => {
    const server = await serverProcess(place.folder)
    const photos = await filled(server, [40, 80])
    const stop = writers(server.url, 4)
    const first = await backedUp(place.folder, stick.folder)
    const second = await backedUp(place.folder, stick.folder)
    expect(await stop()).toBeGreaterThan(20)
    expect(second.head).toBeGreaterThan(first.head)
    expect(first.photos).toEqual({ copied: 2, missing: [] })
    // Each picture lies there once, whatever the number of backups.
    expect(second.photos).toEqual({ copied: 0, missing: [] })
    expect(namesIn(photosFolderIn(stick.folder))).toEqual([...photos].sort())
    const all = await entriesOf(server)
    for (const { path, head, hash } of [first, second]) {
      expect(await verified(path)).toMatchObject({ code: 0, verdict: { ok: true, head, hash } })
      expect(readMark(markFileIn(path))?.mark).toMatchObject({ head, hash })
      expect(all[head - 1]).toMatchObject({ position: head, hash })
      expect(namesIn(path)).toEqual(['shop.mark', 'shop.sqlite'])
    }
    expect(namesIn(stick.folder)).toEqual(
      [basename(first.path), basename(second.path), 'photos'].sort(),
    )
    expect(await server.stop('SIGTERM')).toEqual({ code: 0, err: '' })
  })

  test('names the pictures that are nowhere, and ends with 3', async () => {
    const server = await serverProcess(place.folder)
    const [photo = ''] = await filled(server, [40])
    rmSync(join(photosFolderIn(place.folder), photo))
    const { code, out } = await ran(['backup', stick.folder, '--data', place.folder])
    expect(code).toBe(3)
    expect(JSON.parse(out)).toMatchObject({ ok: true, photos: { copied: 0, missing: [photo] } })
    expect((await verified(JSON.parse(out).path)).code).toBe(3)
  })
})

test('a backup of a server that was killed has what lies beside the log', async () => {
  const server = await serverProcess(place.folder)
  await filled(server)
  await server.stop('SIGKILL')
  expect(statSync(`${logFileIn(place.folder)}-wal`).size).toBeGreaterThan(0)
  const { path, head } = await backedUp(place.folder, stick.folder)
  expect(head).toBe(8)
  expect((await verified(path)).code).toBe(0)
})

test('a backup that is killed never looks whole, and is cleared by the next', async () => {
  const server = await serverProcess(place.folder)
  await filled(server, [40])
  const whole = await backedUp(place.folder, stick.folder)
  const partials = () => namesIn(stick.folder).filter((name) => name.endsWith('.part'))
  const other = dataFolder()
  for (const step of ['copy', 'check', 'photos']) {
    const asked = ['backup', stick.folder, '--data', place.folder, '--progress']
    await killedAt(asked, `"step":"${step}"`)
    for (const name of partials())
      expect(
        await ran(['restore', join(stick.folder, name), '--data', other.folder]),
      ).toMatchObject({
        code: 1,
        err: expect.stringContaining('was never finished'),
      })
    // What has the name of a backup is one.
    for (const name of namesIn(stick.folder).filter((one) => /^flashbell-.*Z(-\d)?$/.test(one)))
      expect((await verified(join(stick.folder, name))).code).toBe(0)
  }
  const next = await backedUp(place.folder, stick.folder)
  expect(partials()).toEqual([])
  expect((await verified(next.path)).code).toBe(0)
  expect(namesIn(stick.folder)).toContain(basename(whole.path))
  other.remove()
})

test('without room left it says so, and the backup before is as it was', async () => {
  const server = await serverProcess(place.folder)
  await filled(server, [40])
  const before = await backedUp(place.folder, stick.folder)
  const name = basename(before.path)
  const small = dataFolder()
  const { code, out, err, isDisk } = await withLittleRoom(
    {
      folder: small.folder,
      // For this one and half another.
      kb: Math.ceil((1.5 * statSync(logFileIn(before.path)).size) / 1_024),
      before: `cp -r "${stick.folder}/." "${small.folder}"`,
      after: `ls "${small.folder}"; cmp "${before.path}/shop.sqlite" "${small.folder}/${name}/shop.sqlite" && echo same`,
    },
    ['backup', small.folder, '--data', place.folder],
  )
  expect({ code, err }).toEqual({
    code: 1,
    err: expect.stringMatching(isDisk ? /^There is no space left for / : /^The backup failed: /),
  })
  expect(out).toBe(`${name}\nphotos\nsame\n`)
  small.remove()
})

describe('a backup is refused with a sentence', () => {
  test('into a folder whose drive is not there, or that lies in the data itself', async () => {
    const server = await serverProcess(place.folder)
    await filled(server)
    const asked = (folder: string) => ran(['backup', folder, '--data', place.folder])
    expect(await asked(join(stick.folder, 'no', 'such'))).toMatchObject({
      code: 1,
      out: '',
      err: expect.stringMatching(/is not there\. Connect its drive, or choose another folder\.\n$/),
    })
    expect(await asked(join(place.folder, 'backups'))).toMatchObject({
      code: 1,
      err: expect.stringContaining('lies in the folder of the log itself'),
    })
    expect(existsSync(join(place.folder, 'backups'))).toBe(false)
    expect(await asked(join(stick.folder, 'new'))).toMatchObject({ code: 0 })
  })

  test('of what is not a number of days', async () => {
    const server = await serverProcess(place.folder)
    await filled(server)
    const given = ['--keep-days', 'all']
    expect(await ran(['backup', stick.folder, '--data', place.folder, ...given])).toMatchObject({
      code: 2,
      err: expect.stringMatching(/^keep\.days: "all" won't work\. Use a whole/),
    })
    expect(namesIn(stick.folder)).toEqual([])
  })

  test('of a log that is not as it was written: the backups before are kept', async () => {
    const server = await serverProcess(place.folder)
    await filled(server)
    await server.stop('SIGTERM')
    const before = await backedUp(place.folder, stick.folder)
    const text = readFileSync(logFileIn(place.folder), 'latin1')
    const changed = text.replaceAll('Delivery van', 'Delivery vat')
    writeFileSync(logFileIn(place.folder), changed, 'latin1')
    expect(await ran(['backup', stick.folder, '--data', place.folder])).toMatchObject({
      code: 1,
      err: expect.stringMatching(/^The log is not as it was recorded, from entry 4 on: /),
    })
    expect(namesIn(stick.folder)).toEqual([basename(before.path)])
  })

  test('while another is being made', async () => {
    const server = await serverProcess(place.folder)
    await filled(server)
    using db = new Database(join(place.folder, 'backup.sqlite'), { create: true })
    db.run('BEGIN EXCLUSIVE')
    expect(await ran(['backup', stick.folder, '--data', place.folder])).toMatchObject({
      code: 1,
      err: expect.stringContaining('Another backup of this shop is being made'),
    })
  })
})

describe('what a backup removes', () => {
  /** A backup as it would lie there if it had been made then. */
  async function madeAt(date: string): Promise<string> {
    const { path } = await backedUp(place.folder, stick.folder)
    const name = basename(path).replace(/\d{4}-\d\d-\d\d/, date)
    renameSync(path, join(stick.folder, name))
    return name
  }
  const keep = ['--keep-days', '1', '--keep-weeks', '1', '--keep-months', '2']

  test('is the oldest, of this shop alone, when the new one is whole', async () => {
    const server = await serverProcess(place.folder)
    await filled(server)
    const names = [
      await madeAt('2026-01-05'),
      await madeAt('2026-02-05'),
      await madeAt('2026-02-06'),
    ]
    const foreign = 'flashbell-VANSHAP2-2020-01-01T00-00-00Z'
    mkdirSync(join(stick.folder, foreign))
    await post(`${server.url}/api/commands`, note('later'))
    const { path, removed, spared } = await backedUp(place.folder, stick.folder, ...keep)
    // The month before has its last one kept.
    expect({ removed, spared }).toEqual({ removed: [names[1], names[0]], spared: [] })
    expect(namesIn(stick.folder)).toEqual([basename(path), names[2], foreign].sort())
  })

  test('is never one with entries that the new one lacks: the log was cut since', async () => {
    const server = await serverProcess(place.folder)
    await filled(server)
    const short = await madeAt('2026-01-05')
    await post(`${server.url}/api/commands`, note('lost'))
    const long = await madeAt('2026-01-06')
    await server.stop('SIGTERM')
    {
      using db = new Database(logFileIn(place.folder))
      db.run('DROP TRIGGER entry_no_delete')
      db.run('DELETE FROM entry WHERE position > 8')
      db.run('DELETE FROM snapshot')
    }
    const { removed, spared } = await backedUp(
      place.folder,
      stick.folder,
      ...['--keep-days', '1', '--keep-weeks', '0', '--keep-months', '0'],
    )
    expect({ removed, spared }).toEqual({ removed: [short], spared: [long] })
    expect((await verified(join(stick.folder, long))).code).toBe(0)
  })
})
