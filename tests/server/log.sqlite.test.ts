import { Database } from 'bun:sqlite'
import { readFileSync, writeFileSync } from 'node:fs'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { verify } from '../../server/log/chain.ts'
import { openLogFile } from '../../server/log/file.ts'
import { inPages, type Store } from '../../server/log/log.ts'
import { sqliteStore, storeOn } from '../../server/log/sqlite.ts'
import { entriesAfter, everyField, firstEntries } from '../support/logEntries.ts'
import { closedLog, logFolder } from '../support/logFiles.ts'

let place: ReturnType<typeof logFolder>
const opened: { close: () => unknown }[] = []
const keep = <T extends { close: () => unknown }>(what: T): T => {
  opened.push(what)
  return what
}
const open = (): Store => keep(sqliteStore(place.file))
/** Another program's connection, without any of our settings. */
const other = (): Database => keep(new Database(place.file))

beforeEach(() => {
  place = logFolder()
})
afterEach(async () => {
  for (const it of opened.splice(0)) await it.close()
  place.remove()
})

const verdictOf = (store: Store) =>
  verify(
    'S1',
    inPages((page) => store.raw('S1', page)),
  )

describe('a log file', () => {
  test('opened again, it holds everything, and goes on from there', async () => {
    const store = open()
    const entries = firstEntries('S1', [{}, everyField])
    await store.append('S1', 0, entries)
    await store.putMeta('shop', 'S1')
    await store.putSnapshot('S1', 'fold-1', 2, '{}')
    await store.close()
    const again = open()
    expect(await again.read('S1', { after: 0, limit: 10 })).toEqual(entries)
    expect(await again.getMeta('shop')).toBe('S1')
    expect(await again.getSnapshot('S1', 'fold-1')).toEqual({ position: 2, json: '{}' })
    const next = entriesAfter('S1', await again.head('S1'), [{}])
    expect(await again.append('S1', 2, next)).toBe('done')
    expect(await verdictOf(again)).toMatchObject({ ok: true, head: { position: 3 } })
  })

  test('is written so that an acknowledged entry survives a power cut', () => {
    const db = keep(openLogFile(place.file))
    const setting = (name: string) => db.query(`PRAGMA ${name}`).values()[0]?.[0]
    // sqlite.org/pragma.html: 2 is FULL.
    expect([setting('journal_mode'), setting('synchronous')]).toEqual(['wal', 2])
    expect([setting('foreign_keys'), setting('recursive_triggers')]).toEqual([1, 1])
  })
})

describe('the file itself', () => {
  const attempts = {
    'an update': "UPDATE entry SET text = '{}' WHERE position = 2",
    'a delete': 'DELETE FROM entry WHERE position = 2',
    'a replacement by position': insertAs('OR REPLACE', "'S1', 2, 'new.0'"),
    'a replacement by id': insertAs('OR REPLACE', "'S1', 4, 'c2.0'"),
    'a replacement by row number':
      'INSERT OR REPLACE INTO entry (rowid, shop, position, id, text, hash, command, type, at, recorded_at)' +
      ` VALUES (2, 'S1', 4, 'new.0', '{}', '${'a'.repeat(64)}', 'new', 'NoteAdded', 1, 1)`,
    'an upsert': `${insertAs('', "'S1', 2, 'c2.0'")} ON CONFLICT (shop, id) DO UPDATE SET text = '{}'`,
    'an entry that leaves a gap': insertAs('', "'S1', 9, 'new.0'"),
  }

  function insertAs(mode: string, key: string): string {
    return (
      `INSERT ${mode} INTO entry (shop, position, id, text, hash, command, type, at, recorded_at)` +
      ` VALUES (${key}, '{}', '${'a'.repeat(64)}', 'new', 'NoteAdded', 1, 1)`
    )
  }

  test.each(Object.entries(attempts))('refuses %s, whoever asks', async (_what, sql) => {
    const store = open()
    const entries = firstEntries('S1', [{}, {}, {}])
    await store.append('S1', 0, entries)
    const careless = other()
    const careful = other()
    careful.run('PRAGMA recursive_triggers = ON')
    for (const db of [careless, careful]) expect(() => db.run(sql)).toThrow(/entries are/)
    expect(await store.read('S1', { after: 0, limit: 10 })).toEqual(entries)
  })

  test('has its guards again after another tool dropped them', async () => {
    await closedLog(place.file)
    const db = other()
    for (const guard of ['entry_no_update', 'entry_no_delete', 'entry_at_end'])
      db.run(`DROP TRIGGER ${guard}`)
    db.close()
    open()
    for (const sql of Object.values(attempts)) expect(() => other().run(sql)).toThrow(/entries are/)
  })
})

/** With another program, which has no use for the guard. */
function edit(guard: 'entry_no_update' | 'entry_no_delete', sql: string): void {
  const db = other()
  db.run(`DROP TRIGGER ${guard}`)
  db.run(sql)
  db.close()
}

describe('an edit behind the back of the log', () => {
  test('with another program, guards dropped, is named by verify', async () => {
    await closedLog(place.file)
    edit('entry_no_update', "UPDATE entry SET text = replace(text, 'MARKED', 'MARRED')")
    expect(await verdictOf(open())).toMatchObject({ ok: false, position: 20, id: 'c20.0' })
  })

  test('of a column alone is named by verify', async () => {
    await closedLog(place.file)
    edit('entry_no_update', "UPDATE entry SET cup = 'DDDD2222' WHERE position = 7")
    expect(await verdictOf(open())).toMatchObject({
      position: 7,
      damage: {
        code: 'otherColumn',
        params: { column: 'cup', has: '"DDDD2222"', said: '"CCCC2222"' },
      },
    })
  })

  test('of one byte in the raw file is named by verify', async () => {
    await closedLog(place.file)
    const bytes = readFileSync(place.file)
    const at = bytes.indexOf('MARKED')
    expect(bytes.indexOf('MARKED', at + 1)).toBe(-1)
    bytes[at] = 'N'.charCodeAt(0)
    writeFileSync(place.file, bytes)
    expect(await verdictOf(open())).toMatchObject({ ok: false, position: 20, id: 'c20.0' })
  })

  test('that takes an entry out is named by verify', async () => {
    await closedLog(place.file)
    edit('entry_no_delete', 'DELETE FROM entry WHERE position = 5')
    expect(await verdictOf(open())).toMatchObject({ position: 5, damage: { code: 'gap' } })
  })

  test('while the server runs stops the next append', async () => {
    const store = open()
    await store.append('S1', 0, firstEntries('S1', [{}, {}]))
    const next = entriesAfter('S1', await store.head('S1'), [{}])
    const db = other()
    db.run('DROP TRIGGER entry_no_update')
    db.run(`UPDATE entry SET hash = '${'b'.repeat(64)}' WHERE position = 2`)
    await expect(store.append('S1', 2, next)).rejects.toThrow('not sealed upon the entry in front')
  })

  test('that leaves text which is not JSON is reported on reading, with the position', async () => {
    await closedLog(place.file)
    edit('entry_no_update', "UPDATE entry SET text = '{' WHERE position = 3")
    const reading = open().read('S1', { after: 0, limit: 10 })
    await expect(reading).rejects.toMatchObject({ code: 'damaged', message: /^Entry 3 of shop S1/ })
  })
})

describe('a disk that refuses a commit', () => {
  const big = { data: { note: 'x'.repeat(30_000) } }

  test('when it is full, the group is refused with what to do, and passes once there is room', async () => {
    const db = openLogFile(place.file)
    const store = keep(storeOn(db))
    await store.append('S1', 0, firstEntries('S1', [{}]))
    const pages = Number(db.query('PRAGMA page_count').values()[0]?.[0])
    db.run(`PRAGMA max_page_count = ${pages + 10}`)
    const head = await store.head('S1')
    const group = entriesAfter('S1', head, [big, big, big])
    await expect(store.append('S1', 1, group)).rejects.toMatchObject({
      code: 'full',
      hint: 'Free some space on it, then try again; nothing that was acknowledged is lost.',
    })
    expect(await store.head('S1')).toEqual(head)
    db.run('PRAGMA max_page_count = 100000')
    expect(await store.append('S1', 1, group)).toBe('done')
    expect(await verdictOf(store)).toMatchObject({ ok: true, head: { position: 4 } })
  })

  test('when another program holds the file, the append says so, and passes afterwards', async () => {
    const db = openLogFile(place.file)
    const store = keep(storeOn(db))
    db.run('PRAGMA busy_timeout = 1')
    const holder = other()
    holder.run('BEGIN IMMEDIATE')
    const entries = firstEntries('S1', [{}])
    await expect(store.append('S1', 0, entries)).rejects.toMatchObject({
      code: 'busy',
      hint: 'Close it: one server at a time may use a log.',
    })
    holder.run('ROLLBACK')
    expect(await store.append('S1', 0, entries)).toBe('done')
  })
})
