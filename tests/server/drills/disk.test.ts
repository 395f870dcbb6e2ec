import { statSync } from 'node:fs'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Entry } from '../../../machines/envelope.ts'
import { logFileIn } from '../../../server/data.ts'
import { openWriter } from '../../../server/handle.ts'
import { verify } from '../../../server/log/chain.ts'
import { openLogFile } from '../../../server/log/file.ts'
import { inPages } from '../../../server/log/log.ts'
import { storeOn } from '../../../server/log/sqlite.ts'
import type { Answer } from '../../../server/problems.ts'
import { openShops } from '../../../server/shops.ts'
import { verifyFolder } from '../../../server/verifyLog.ts'
import { note } from '../../support/copies.ts'
import { type Drill, drill, drillPatience } from '../../support/drill.ts'
import { logFolder } from '../../support/logFiles.ts'
import { vanInWork } from '../../support/serverCommands.ts'
import {
  dataFolder,
  killAll,
  limitedServer,
  post,
  serverProcess,
} from '../../support/serverProcess.ts'
import { TestClock } from '../../support/serverShop.ts'

/**
 * A disk that is full, and one that refuses to write, in the middle of groups of commands: what was
 * answered as kept is in the log, what was not is not, and the shop's state is that of its log.
 */

let place: ReturnType<typeof dataFolder>
let log: ReturnType<typeof logFolder>
beforeEach(() => {
  place = dataFolder()
  log = logFolder()
})
afterEach(() => {
  killAll()
  place.remove()
  log.remove()
})

const GROUP_MOST = 40
/** Long enough that a group needs pages of its own, short enough for a note. */
const groupOf = (run: Drill, name: string) =>
  Array.from({ length: run.dice.between(1, GROUP_MOST) }, (_, n) =>
    note(`${name}-${n}`, 'The customer called. '.repeat(run.dice.between(1, 40))),
  )

test('a full disk refuses whole groups, and goes on when there is room again', {
  timeout: drillPatience,
}, async () => {
  const run = drill('full disks', { small: 40, long: 400 })
  const { dice, count } = run
  const db = openLogFile(log.file)
  const store = storeOn(db)
  const reports: unknown[] = []
  const clock = new TestClock()
  const deps = { store, clock, timeZone: 'UTC', report: (error: unknown) => reports.push(error) }
  const shops = await openShops(deps)
  const { ownWriter } = shops
  for (const wish of vanInWork) expect((await ownWriter.handle(wish)).status).toBe(200)
  const kept = new Map<string, readonly Entry[]>()
  const refused: string[] = []
  for (let round = 0; round < run.rounds; round += 1) {
    clock.advance(1_000)
    // SQLite's own end of the disk: it may not grow beyond so many pages.
    const pages = Number(db.query('PRAGMA page_count').values()[0]?.[0])
    const isFull = dice.chance(60)
    db.run(`PRAGMA max_page_count = ${isFull ? pages + dice.below(6) : 1_000_000}`)
    const group = groupOf(run, `g${round}`)
    const { head } = ownWriter.state()
    const answers: readonly Answer[] = await Promise.all(group.map(ownWriter.handle))
    const statuses = new Set(answers.map(({ status }) => status))
    // One group, one commit: all of it or none.
    expect([...statuses]).toEqual([statuses.has(200) ? 200 : 503])
    count(statuses.has(200) ? 'groups kept' : 'groups refused')
    if (statuses.has(503)) expect(ownWriter.state().head).toBe(head)
    for (const [i, { id }] of group.entries()) {
      const answer = answers[i]
      if (answer?.status === 200) kept.set(id, answer.body.entries)
      else refused.push(id)
    }
  }
  const stored = await Array.fromAsync(inPages((page) => store.read(shops.own, page)))
  const byCommand = Map.groupBy(stored, ({ command }) => command)
  for (const [id, entries] of kept) expect(byCommand.get(id)).toEqual(entries)
  for (const id of refused) expect(byCommand.has(id)).toBe(false)
  expect(
    await verify(
      shops.own,
      inPages((page) => store.raw(shops.own, page)),
    ),
  ).toMatchObject({
    ok: true,
  })
  db.run('PRAGMA max_page_count = 1000000')
  // What was refused may be sent again, and the state is what the log folds to.
  const again = refused.slice(0, GROUP_MOST).map((id) => ownWriter.handle(note(id)))
  for (const { status } of await Promise.all(again)) expect(status).toBe(200)
  const folded = await openWriter(shops.own, { ...deps, store })
  expect(folded.state()).toEqual(ownWriter.state())
  run.done({ kept: kept.size, refused: refused.length })
  expect([run.counted('groups kept') > 0, run.counted('groups refused') > 0]).toEqual([true, true])
  await store.close()
})

test('a file that the system does not let grow loses nothing that was answered', {
  timeout: drillPatience,
}, async () => {
  const run = drill('failing disks', { small: 1, long: 100 })
  const { dice, count } = run
  const kept = new Map<string, readonly Entry[]>()
  const first = await serverProcess(place.folder)
  await post(`${first.url}/api/commands`, vanInWork)
  await first.stop('SIGTERM')
  let refused: string[] = []
  for (let round = 0; round < run.rounds; round += 1) {
    const hasKib = Math.ceil(statSync(logFileIn(place.folder)).size / 1_024)
    // The kernel refuses every write beyond so many KiB of any file (setrlimit(2), EFBIG).
    const server = await limitedServer(place.folder, hasKib + dice.between(50, 400))
    refused = []
    for (let n = 0; refused.length === 0 && n < 200; n += 1) {
      const group = groupOf(run, `r${round}-${n}`)
      const { body } = await post(`${server.url}/api/commands`, group)
      for (const [i, { id }] of group.entries()) {
        const { status, body: said } = body[i]
        expect([200, 503]).toContain(status)
        if (status === 200) kept.set(id, said.entries)
        else refused.push(id)
        count(status === 200 ? 'kept' : 'refused')
      }
    }
    expect(refused.length).toBeGreaterThan(0)
    await server.stop(dice.chance(50) ? 'SIGKILL' : 'SIGTERM')
    expect(await verifyFolder(place.folder)).toMatchObject({ ok: true })
    await keptIn(place.folder, kept, refused)
  }
  run.done()
})

/** After a restart on a disk that works again. */
async function keptIn(
  folder: string,
  kept: ReadonlyMap<string, readonly Entry[]>,
  refused: readonly string[],
): Promise<void> {
  const server = await serverProcess(folder)
  const all: Entry[] = []
  for (;;) {
    const page = await fetch(`${server.url}/api/entries?after=${all.length}&limit=1000`)
    const { entries } = (await page.json()) as { entries: Entry[] }
    all.push(...entries)
    if (entries.length < 1_000) break
  }
  const byCommand = Map.groupBy(all, ({ command }) => command)
  for (const [id, entries] of kept) expect(byCommand.get(id)).toEqual(entries)
  for (const id of refused) expect(byCommand.has(id)).toBe(false)
  await server.stop('SIGTERM')
}
