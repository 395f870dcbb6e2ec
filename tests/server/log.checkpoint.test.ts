import { Database } from 'bun:sqlite'
import { existsSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { openGenealogy } from '../../server/genealogy/index.ts'
import { emptyHead } from '../../server/log/chain.ts'
import { pagesLeft } from '../../server/log/checkpoint.ts'
import type { Head, Store } from '../../server/log/log.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { nextTurn } from '../../server/turn.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { logFolder } from '../support/logFiles.ts'

/** A page of SQLite's and its header in the file beside the log (sqlite.org/fileformat.html, 4.1). */
const PAGE_BYTES = 4_096 + 24
/** SQLite copies by itself when so many have come together (sqlite.org/c3ref/wal_autocheckpoint.html). */
const SQLITES_OWN = 1_000
/** Longer than a page, so that few commits make many pages. */
const LONG = { data: { filler: 'x'.repeat(20 * 4_096) } }

let places: ReturnType<typeof logFolder>[] = []
const opened: { close: () => unknown }[] = []
const keep = <T extends { close: () => unknown }>(what: T): T => {
  opened.push(what)
  return what
}
function place() {
  const made = logFolder()
  places.push(made)
  return made
}
beforeEach(() => {
  places = []
})
afterEach(async () => {
  for (const it of opened.splice(0)) await it.close()
  for (const { remove } of places) remove()
})

/** Appends one entry after another, each its own commit. */
function writing(store: Store) {
  let head: Head = emptyHead('S1')
  return async (content: object = {}) => {
    const [entry] = entriesAfter('S1', head, [content])
    if (!entry) throw new Error('no entry')
    expect(await store.append('S1', head.position, [entry])).toBe('done')
    head = entry
    return entry
  }
}

const besideOf = (file: string): number =>
  statSync(`${file}-wal`, { throwIfNoEntry: false })?.size ?? 0

async function until(is: () => boolean): Promise<void> {
  for (const end = Date.now() + 20_000; !is(); await Bun.sleep(5))
    if (Date.now() > end) throw new Error('it never came')
}

describe('what was committed', () => {
  test('is copied into the log itself by a thread, not by the commit', async () => {
    // The thread takes milliseconds to begin. Where the machine held this one up for as long, another file tells.
    let copiedByThen = 0
    for (let tries = 0; tries < 5; tries += 1) {
      const { file } = place()
      const append = writing(keep(sqliteStore(file)))
      const left = pagesLeft(keep(new Database(file)))
      while (besideOf(file) < (SQLITES_OWN + 10) * PAGE_BYTES) await append(LONG)
      // Asked once: between two questions the thread may have begun.
      const pages = left()
      if (pages <= SQLITES_OWN) copiedByThen += 1
      expect(pages).toBeLessThan(4 * SQLITES_OWN)
      await until(() => left() === 0)
    }
    expect(copiedByThen).toBeLessThan(5)
  })

  test('is all there, and the file beside the log stays short, however many commits follow each other', async () => {
    const { file } = place()
    const store = keep(sqliteStore(file))
    const append = writing(store)
    const written: string[] = []
    for (let n = 0; n < 600; n += 1) {
      written.push((await append(LONG)).hash)
      await nextTurn()
    }
    expect(600 * 20 * PAGE_BYTES).toBeGreaterThan(2 * 5_000 * PAGE_BYTES)
    expect(besideOf(file)).toBeLessThan(5_000 * PAGE_BYTES)
    await store.close()
    expect(existsSync(`${file}-wal`)).toBe(false)
    const again = keep(sqliteStore(file))
    const read = await again.read('S1', { after: 0, limit: 1_000 })
    expect(read.map(({ hash }) => hash)).toEqual(written)
  })

  test('is copied whole in between: the file beside the log is begun anew under a steady load', async () => {
    const { file } = place()
    const append = writing(keep(sqliteStore(file)))
    let pages = 0
    const left = pagesLeft(keep(new Database(file)))
    for (let n = 0; n < 3_000; n += 1) {
      const before = left()
      await append()
      pages += Math.max(0, left() - before)
      await nextTurn()
    }
    // It would hold nearly all of them, up to where SQLite copies them within a commit after all.
    expect(pages).toBeGreaterThan(4_500)
    expect(besideOf(file)).toBeLessThan(3_500 * PAGE_BYTES)
  })

  test('is held back by one that reads, no longer than it reads', async () => {
    const { file } = place()
    const append = writing(keep(sqliteStore(file)))
    await append()
    const reader = keep(new Database(file))
    const left = pagesLeft(keep(new Database(file)))
    reader.run('BEGIN')
    reader.query('SELECT max(position) FROM entry').get()
    while (left() < 2 * SQLITES_OWN) {
      await append(LONG)
      await nextTurn()
    }
    reader.run('ROLLBACK')
    // It is due again when as many more have come.
    for (let n = 0; n < 60 && left() > SQLITES_OWN; n += 1) {
      await append(LONG)
      await Bun.sleep(5)
    }
    expect(left()).toBeLessThan(SQLITES_OWN)
  })

  test('is all there when the log is closed while the thread still copies it', async () => {
    const { file } = place()
    const store = keep(sqliteStore(file))
    const append = writing(store)
    while (besideOf(file) < (SQLITES_OWN + 10) * PAGE_BYTES) await append(LONG)
    const last = await append()
    await store.close()
    expect(existsSync(`${file}-wal`)).toBe(false)
    const again = keep(sqliteStore(file))
    expect(await again.head('S1')).toMatchObject({ position: last.position, hash: last.hash })
  })

  test('is kept where the thread cannot open the log: commits go on', async () => {
    const { file, folder } = place()
    const store = keep(sqliteStore(file))
    const append = writing(store)
    await append()
    rmSync(folder, { recursive: true })
    for (let n = 0; n < 60; n += 1) await append(LONG)
    // As long as the thread takes to answer that it cannot.
    await Bun.sleep(100)
    const last = await append()
    expect(await store.head('S1')).toMatchObject({ hash: last.hash })
  })
})

test('an index beside the log is kept short by the thread too', async () => {
  const file = join(place().folder, 'genealogy.sqlite')
  const index = keep(openGenealogy(file))
  const left = pagesLeft(keep(new Database(file)))
  const mixed = Array.from({ length: 30_000 }, (_, n) => ({
    type: 'CupMixed',
    cup: `C${n}`,
    data: { sheet: 'clear-2k', lots: [`L-${n}`], totalMl: 600 },
  }))
  // One commit of more pages than are due, of fewer than SQLite copies within it.
  index.take(entriesAfter('S1', emptyHead('S1'), mixed))
  const pages = left()
  expect(pages).toBeGreaterThan(SQLITES_OWN)
  expect(pages).toBeLessThan(4 * SQLITES_OWN)
  await until(() => left() === 0)
})
