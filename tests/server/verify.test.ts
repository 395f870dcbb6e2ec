import { Database } from 'bun:sqlite'
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { encode } from 'fast-png'
import { describe, expect, test } from 'vitest'
import { logFileIn, photosFolderIn } from '../../server/data.ts'
import { sha256 } from '../../server/log/canonical.ts'
import { openLogFile } from '../../server/log/file.ts'
import { LogError } from '../../server/log/log.ts'
import { sqliteStore, storeOn } from '../../server/log/sqlite.ts'
import { photoRoutes } from '../../server/routes/photos.ts'
import { verifyFolder } from '../../server/verifyLog.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { onReadOnlyMedium } from '../support/media.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { post, ran, serverProcess } from '../support/serverProcess.ts'
import { openTestShop } from '../support/serverShop.ts'

const place = folderForTests()

/** A real picture: two by two gray points. */
const picture = (grey: number): Uint8Array =>
  encode({ width: 2, height: 2, channels: 1, depth: 8, data: new Uint8Array(4).fill(grey) })

/**
 * The van's log in a closed file, with or without a snapshot.
 * @param namedEvery after how many entries these are found by the table beside the log
 * @returns the shop
 */
async function closedLog(isKept: boolean, namedEvery?: number): Promise<string> {
  const store = storeOn(openLogFile(logFileIn(place.folder)), namedEvery)
  const { shops } = await openTestShop({ store })
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  if (isKept) await shops.close()
  await store.close()
  return shops.own
}

/** Changes the file with another tool: without the triggers that guard it. */
function tamper(...statements: readonly string[]): void {
  using db = new Database(logFileIn(place.folder))
  for (const name of ['entry_no_update', 'entry_no_delete', 'entry_at_end'])
    db.run(`DROP TRIGGER IF EXISTS ${name}`)
  for (const statement of statements) db.run(statement)
}

function placesOf(bytes: Buffer, text: string): number[] {
  const places: number[] = []
  for (let at = bytes.indexOf(text); at !== -1; at = bytes.indexOf(text, at + 1)) places.push(at)
  return places
}

describe('flashbell verify', () => {
  test('finds a log as it was written', async () => {
    const shop = await closedLog(true)
    expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, shop, head: 8, count: 8 })
  })

  test('finds nothing wrong with an empty log', async () => {
    await sqliteStore(logFileIn(place.folder)).close()
    expect(await verifyFolder(place.folder)).toEqual({
      ok: true,
      shop: null,
      head: 0,
      count: 0,
      hash: null,
    })
  })

  test.each(['j-open', 'VANJAB22', 'Delivery van'])(
    'names the entry wherever in the file a letter of %s was changed',
    async (text) => {
      await closedLog(false)
      const file = logFileIn(place.folder)
      const whole = readFileSync(file)
      const places = placesOf(whole, text)
      expect(places.length).toBeGreaterThan(0)
      for (const at of places) {
        const changed = Buffer.from(whole)
        changed[at + 1] = 'a'.charCodeAt(0)
        writeFileSync(file, changed)
        const verdict = await verifyFolder(place.folder)
        expect({ at, verdict }).toMatchObject({ at, verdict: { ok: false } })
        const position = verdict.ok ? 0 : verdict.position
        const [row] = vanInWork.slice(position - 2)
        expect(JSON.stringify(row)).toContain(text)
      }
    },
  )

  test('says of an index that cannot be read that the file is damaged', async () => {
    await closedLog(false, 1)
    const file = logFileIn(place.folder)
    const whole = readFileSync(file)
    const pageSize = whole.readUInt16BE(16)
    let indexes = 0
    for (let page = pageSize; page < whole.length; page += pageSize) {
      // sqlite.org/fileformat.html, 1.6: a leaf of an index, with cells.
      if (whole[page] !== 10 || whole.readUInt16BE(page + 3) === 0) continue
      const changed = Buffer.from(whole)
      // Behind the length of its first cell: how long that record's header is.
      const at = page + whole.readUInt16BE(page + 8) + 1
      changed[at] = (changed[at] ?? 0) ^ 0x40
      writeFileSync(file, changed)
      indexes += 1
      const said = await verifyFolder(place.folder).catch((error) => error)
      const isSaid = said instanceof LogError || said.ok === false
      expect({ at, said, isSaid }).toMatchObject({ isSaid: true })
    }
    expect(indexes).toBeGreaterThan(3)
  })

  test('names the first entry that is missing at the end, by what the last snapshot saw', async () => {
    await closedLog(true)
    tamper('DELETE FROM entry WHERE position > 6')
    expect(await verifyFolder(place.folder)).toMatchObject({
      ok: false,
      position: 7,
      damage: { code: 'cut', params: { head: 8 } },
    })
  })

  test('names the entry from which everything was hashed again, by what the last snapshot saw', async () => {
    const shop = await closedLog(true)
    tamper('DELETE FROM entry WHERE position = 8')
    const store = sqliteStore(logFileIn(place.folder))
    await store.append(shop, 7, entriesAfter(shop, await store.head(shop), [{}]))
    await store.close()
    expect(await verifyFolder(place.folder)).toMatchObject({
      ok: false,
      position: 8,
      damage: { code: 'rewritten' },
    })
  })

  test('believes the log and not a snapshot that was changed itself', async () => {
    await closedLog(true)
    tamper(`UPDATE snapshot SET position = 99, json = replace(json, '"head":8', '"head":99')`)
    expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, head: 8 })
  })

  describe('of the pictures that the log names', () => {
    const RUN = picture(40)
    const NIB = picture(80)

    /** Two pictures of the van, sent as a kiosk sends them: the bytes, then their name. */
    async function photographed(): Promise<readonly string[]> {
      const store = sqliteStore(logFileIn(place.folder))
      const { app, shops } = await openTestShop({
        store,
        more: [photoRoutes(photosFolderIn(place.folder))],
      })
      for (const wish of vanInWork) await shops.ownWriter.handle(wish)
      const names: string[] = []
      for (const body of [RUN, NIB]) {
        const sent = await app.request('/api/photos', {
          method: 'POST',
          body: Uint8Array.from(body),
        })
        const { photo } = (await sent.json()) as { photo: string }
        names.push(photo)
        const wish = command(`photo-${names.length}`, 'AddPhoto', { job: JOB, photo })
        expect(await shops.ownWriter.handle(wish)).toMatchObject({ status: 200 })
      }
      await shops.close()
      await store.close()
      return names.map((name) => join(photosFolderIn(place.folder), name))
    }

    test('finds them as they were kept', async () => {
      await photographed()
      expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, head: 10 })
    })

    test('names the entry and the file of which one byte was changed, whichever byte', async () => {
      const [, file = ''] = await photographed()
      for (const at of [0, Math.floor(NIB.length / 2), NIB.length - 1]) {
        const changed = Uint8Array.from(NIB)
        changed[at] = (changed[at] ?? 0) ^ 1
        writeFileSync(file, changed)
        expect(await verifyFolder(place.folder)).toMatchObject({
          ok: false,
          position: 10,
          id: 'photo-2.0',
          damage: {
            code: 'photoBytes',
            params: { file, hash: expect.stringMatching(/^[0-9a-f]{64}$/) },
          },
        })
      }
      writeFileSync(file, NIB)
      expect(await verifyFolder(place.folder)).toMatchObject({ ok: true })
    })

    test('warns of every picture that is missing: the log is whole, and says what to do', async () => {
      const files = await photographed()
      for (const file of files) rmSync(file)
      const verdict = await verifyFolder(place.folder)
      expect(verdict).toMatchObject({
        ok: true,
        head: 10,
        warnings: files.map((file, i) => ({
          code: 'photoMissing',
          position: 9 + i,
          id: `photo-${i + 1}.0`,
          photo: basename(file),
          damage: { code: 'photoMissing', params: { file } },
        })),
      })
      const { code, out, err } = await ran(['verify', '--data', place.folder])
      expect([code, err]).toEqual([3, ''])
      expect(JSON.parse(out)).toMatchObject({
        ...verdict,
        warnings: files.map((file) => ({
          what: `its picture is missing: ${file}`,
          remedy: expect.stringContaining(`Copy photos/${basename(file)} from a backup into`),
        })),
      })
      for (const [i, bytes] of [RUN, NIB].entries()) writeFileSync(files[i] ?? '', bytes)
      expect((await ran(['verify', '--data', place.folder])).code).toBe(0)
    })
  })

  describe('changes nothing', () => {
    /** All that lies in the folder, to the byte. */
    const content = () =>
      Object.fromEntries(
        readdirSync(place.folder, { withFileTypes: true })
          .filter((one) => one.isFile())
          .map(({ name }) => [name, sha256(readFileSync(join(place.folder, name), 'base64'))]),
      )

    test('of a log that was closed, and makes no file beside it', async () => {
      const shop = await closedLog(true)
      const before = content()
      expect(Object.keys(before)).toEqual(['shop.sqlite'])
      expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, shop, head: 8 })
      expect(content()).toEqual(before)
    })

    test('of a log that was killed: entries beside it count, and stay there', async () => {
      const server = await serverProcess(place.folder)
      await post(`${server.url}/api/commands`, vanInWork)
      await server.stop('SIGKILL')
      const before = content()
      expect(Object.keys(before)).toContain('shop.sqlite-wal')
      expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, head: 8 })
      expect(content()).toEqual(before)
    })

    test('on a medium that cannot be written to', async () => {
      await closedLog(false)
      const { code, out, err } = await onReadOnlyMedium(place.folder, [
        'verify',
        '--data',
        place.folder,
      ])
      expect({ code, err }).toEqual({ code: 0, err: '' })
      expect(JSON.parse(out)).toMatchObject({ ok: true, head: 8 })
    })

    test('beside the server that runs: what is committed meanwhile is not reported as damage', async () => {
      const server = await serverProcess(place.folder)
      await post(`${server.url}/api/commands`, vanInWork)
      const verdict = verifyFolder(place.folder)
      await post(`${server.url}/api/commands`, command('more', 'SaveGun', { gun: 'gun-2' }))
      expect(await verdict).toMatchObject({ ok: true })
      expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, head: 9 })
      expect(await server.stop('SIGTERM')).toEqual({ code: 0, err: '' })
    })
  })

  test('says of an emptied file that it is empty', async () => {
    writeFileSync(logFileIn(place.folder), '')
    await expect(verifyFolder(place.folder)).rejects.toThrow(/the file is empty/)
  })

  test('goes on from a backup of before the last entries, which has its own snapshot', async () => {
    const shop = await closedLog(true)
    const backup = readFileSync(logFileIn(place.folder))
    const store = sqliteStore(logFileIn(place.folder))
    await store.append(shop, 8, entriesAfter(shop, await store.head(shop), [{}, {}]))
    await store.close()
    writeFileSync(logFileIn(place.folder), backup)
    expect(await verifyFolder(place.folder)).toMatchObject({ ok: true, head: 8 })
  })
})
