import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import canonicalize from 'canonicalize'
import { expect, test, vi } from 'vitest'
import { logFileIn } from '../../server/data.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { entriesOf, filled, note } from '../support/copies.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { post, ran, serverProcess } from '../support/serverProcess.ts'

const place = folderForTests()
const other = folderForTests()

/** Each starts a dozen processes, one after another. */
vi.setConfig({ testTimeout: 400_000 })

const file = () => join(other.folder, 'shop.jsonl')
const into = () => join(other.folder, 'imported')
const imported = (from = file()) => ran(['import', from, '--data', into()])

/** The van's shop with 600 notes, exported while its server runs. @returns its entries and the lines */
async function exported() {
  const server = await serverProcess(place.folder)
  await filled(server, [40])
  for (let from = 0; from < 600; from += 100)
    await post(
      `${server.url}/api/commands`,
      Array.from({ length: 100 }, (_, i) => note(`n${from + i}`, `«${from + i}» ε\u2028`)),
    )
  const entries = await entriesOf(server)
  const asked = await ran(['export', file(), '--data', place.folder])
  await server.stop('SIGTERM')
  return { entries, asked, lines: readFileSync(file(), 'utf8').split('\n') }
}

test('what is exported and imported has the same entries, positions and hashes', async () => {
  const { entries, asked, lines } = await exported()
  expect(lines.pop()).toBe('')
  expect(lines).toEqual(entries.map((entry) => canonicalize(entry)))
  const last = entries.at(-1) as { hash: string; shop: string }
  const shops = [{ shop: last.shop, head: entries.length, hash: last.hash }]
  expect(asked).toMatchObject({ code: 0, err: '' })
  expect(JSON.parse(asked.out)).toEqual({ ok: true, file: file(), shops })
  expect(await ran(['export', file(), '--data', place.folder])).toMatchObject({
    code: 1,
    err: `${file()} exists already. Choose another name.\n`,
  })
  const onOut = await ran(['export', '-', '--data', place.folder])
  expect(onOut).toEqual({ code: 0, err: '', out: readFileSync(file(), 'utf8') })

  const { code, out, err } = await imported()
  expect([code, err]).toEqual([0, expect.stringContaining('are not in an export: the log names 1')])
  expect(JSON.parse(out)).toMatchObject({ ok: true, shops, photos: 1 })
  // The picture is not in an export.
  expect((await ran(['verify', '--data', into()])).code).toBe(3)
  const again = await serverProcess(into())
  expect(await entriesOf(again)).toEqual(entries)
  expect(await post(`${again.url}/api/commands`, note('goes-on'))).toMatchObject({ status: 200 })
  await again.stop('SIGTERM')
  expect(await imported()).toMatchObject({
    code: 1,
    err: expect.stringMatching(
      /^The folder .* is not empty: it holds .*\. Choose an empty one\.\n$/,
    ),
  })
})

test('a bad line is named by its number, and nothing is left of the others', async () => {
  const { lines } = await exported()
  const bad = join(other.folder, 'bad.jsonl')
  const changed = (at: number, how: (line: string) => string) =>
    lines.map((line, i) => (i === at ? how(line) : line)).join('\n')
  const entry = (line: string, more: object) => JSON.stringify({ ...JSON.parse(line), ...more })
  const cases: readonly (readonly [content: string | Uint8Array, line: number, what: RegExp])[] = [
    [changed(3, (line) => line.replace('van', 'vat')), 4, /the hash of entry 4 is not that of/],
    [changed(550, (line) => line.slice(0, -9)), 551, /it is not JSON/],
    [changed(7, () => '[]'), 8, /shop is missing|not a JSON object/],
    [changed(7, (line) => entry(line, { type: 7 })), 8, /its type is missing or not as an entry/],
    [
      changed(520, () => lines[519] ?? ''),
      521,
      /entry 520 of shop .* stands where entry 521 follows/,
    ],
    [lines.filter((_, i) => i !== 3).join('\n'), 4, /entry 5 of shop .* where entry 4 follows/],
    [changed(0, () => `"${'x'.repeat(5_000_000)}"`), 1, /it is longer than any entry/],
    [Buffer.from(lines.join('\n'), 'latin1'), 10, /it is not UTF-8 text/],
    ['', 0, /has no entry\. Use a file that flashbell export has written/],
  ]
  for (const [content, line, what] of cases) {
    writeFileSync(bad, content)
    const { code, out, err } = await imported(bad)
    expect([code, out, err]).toEqual([1, '', expect.stringMatching(what)])
    if (line > 0)
      expect(err).toMatch(new RegExp(`, line ${line}: .*\\. Nothing was imported\\.\\n$`))
    expect(readdirSync(into()).filter((name) => name !== 'lock.sqlite')).toEqual([])
  }
  expect((await imported(join(other.folder, 'none'))).err).toBe(
    `There is no file ${join(other.folder, 'none')}.\n`,
  )
})

test('a log of several shops keeps each shop’s entries, the served shop first', async () => {
  const server = await serverProcess(place.folder)
  await filled(server)
  await server.stop('SIGTERM')
  const store = sqliteStore(logFileIn(place.folder))
  const own = await store.getMeta('shop')
  const second = '2222SHAP'
  const rows = entriesAfter(second, await store.head(second), [{}, {}, {}])
  await store.append(second, 0, rows)
  await store.close()
  const asked = JSON.parse((await ran(['export', file(), '--data', place.folder])).out)
  expect(asked.shops).toMatchObject([
    { shop: own, head: 8 },
    { shop: second, head: 3 },
  ])
  const { out } = await imported()
  expect(JSON.parse(out).shops).toEqual(asked.shops)
  const copy = sqliteStore(logFileIn(into()))
  expect(await copy.getMeta('shop')).toBe(own)
  expect(await copy.read(second, { after: 0, limit: 9 })).toEqual(rows)
  await copy.close()
})
