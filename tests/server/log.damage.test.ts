import { Database } from 'bun:sqlite'
import { existsSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { LogError } from '../../server/log/log.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { firstEntries } from '../support/logEntries.ts'
import { closedLog, logFolder } from '../support/logFiles.ts'

let place: ReturnType<typeof logFolder>

beforeEach(() => {
  place = logFolder()
})
afterEach(() => place.remove())

function refusal(): LogError {
  try {
    sqliteStore(place.file)
  } catch (error) {
    if (error instanceof LogError) return error
    throw error
  }
  throw new Error('the file was taken')
}

describe('a file that is not a whole log of this version is refused, and left as it is', () => {
  test('whichever page is overwritten', async () => {
    await closedLog(place.file)
    const whole = readFileSync(place.file)
    const pageSize = whole.readUInt16BE(16)
    const pages = whole.length / pageSize
    expect(pages).toBeGreaterThan(12)
    for (let page = 0; page < pages; page++) {
      const damaged = Buffer.from(whole)
      damaged.fill(0xff, page * pageSize, (page + 1) * pageSize)
      writeFileSync(place.file, damaged)
      const error = refusal()
      expect({ page, code: error.code }).toEqual({ page, code: 'damaged' })
      expect(error.message).toContain('restore the last backup')
      expect(readFileSync(place.file).equals(damaged)).toBe(true)
    }
  })

  test('cut short', async () => {
    await closedLog(place.file)
    truncateSync(place.file, Math.floor(statSync(place.file).size / 2))
    expect(refusal()).toMatchObject({ op: 'open', code: 'damaged' })
  })

  test('emptied or gone, while its last entries lie in the write-ahead log beside it', async () => {
    const store = sqliteStore(place.file)
    await store.append('S1', 0, firstEntries('S1', [{}]))
    const copy = join(place.folder, 'copy.log')
    writeFileSync(`${copy}-wal`, readFileSync(`${place.file}-wal`))
    for (const leave of [() => {}, () => writeFileSync(copy, '')]) {
      leave()
      expect(() => sqliteStore(copy)).toThrow('entries lie beside it')
      expect(existsSync(`${copy}-wal`)).toBe(true)
    }
    await store.close()
  })

  test('text of some other kind', () => {
    writeFileSync(place.file, 'Job 12: two coats of clear on the rear corner.\n'.repeat(40))
    expect(refusal()).toMatchObject({ code: 'damaged', message: /or it is not a log/ })
  })

  test("another program's database", () => {
    const db = new Database(place.file)
    db.run('CREATE TABLE tyres (size TEXT)')
    db.close()
    const before = readFileSync(place.file)
    expect(refusal()).toMatchObject({ code: 'foreign' })
    expect(readFileSync(place.file).equals(before)).toBe(true)
  })

  test('a log that a newer version wrote', async () => {
    await closedLog(place.file)
    const db = new Database(place.file)
    db.run('PRAGMA user_version = 3')
    db.close()
    expect(refusal()).toMatchObject({ code: 'newer', message: /is of version 3/ })
  })

  test('a log without one of its tables', async () => {
    await closedLog(place.file)
    const db = new Database(place.file)
    db.run('DROP TABLE meta')
    db.close()
    expect(refusal()).toMatchObject({ code: 'damaged', message: /has no table meta/ })
  })

  test('a folder that does not exist', () => {
    const file = join(place.folder, 'nowhere', 'shop.log')
    expect(() => sqliteStore(file)).toThrow('Check that its folder exists')
  })

  test('only a file without any content is taken as new', async () => {
    writeFileSync(place.file, '')
    const store = sqliteStore(place.file)
    expect(await store.append('S1', 0, firstEntries('S1', [{}]))).toBe('done')
    await store.close()
  })
})
