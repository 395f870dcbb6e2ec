import { Database } from 'bun:sqlite'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { undoubted } from '../../server/clock.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { reload, withAir } from '../../server/reload.ts'
import { openShops } from '../../server/shops.ts'
import { BUSY, dayId } from '../support/bigDay.ts'
import { type BigLog, writeBigLog } from '../support/bigLog.ts'
import { median, say, title } from './figures.ts'
import { part, ratioAtMost } from './table.ts'

const SHORT = 20_000
const ROUNDS = 7
const KIB = 1_024

const SCAN = 'scan of a cup of the third day'
const NOTE = 'a note on a job of the third day'
const KEPT = 'what the server holds after these notes'
const SNAPSHOT = 'open from a snapshot'
const BLANK = 'open without a snapshot, as after an update'
const ALONE = 'open with the log alone, once'

const PROMISED = {
  [SCAN]: ratioAtMost(1.5),
  [NOTE]: ratioAtMost(1.5),
  [KEPT]: ratioAtMost(1.01),
  [SNAPSHOT]: ratioAtMost(0.2),
  [BLANK]: ratioAtMost(1.5),
  [ALONE]: null,
} as const

/** A shop of years, opened late on its last day. */
async function opened(file: string, { endMs }: BigLog) {
  const store = sqliteStore(file)
  const clock = { now: () => endMs, every: () => () => {}, standing: () => undoubted(endMs) }
  const shops = await openShops({ store, clock, report: console.error, timeZone: () => 'UTC' })
  return {
    ...{ writer: shops.ownWriter, now: endMs },
    async close() {
      await shops.close()
      await store.close()
    },
  }
}
type Opened = Awaited<ReturnType<typeof opened>>

async function ms(work: () => unknown): Promise<number> {
  const start = performance.now()
  await work()
  return performance.now() - start
}

const openMs = async (file: string, log: BigLog) => {
  const start = performance.now()
  const shop = await opened(file, log)
  const took = performance.now() - start
  await shop.close()
  return took
}

/** What there is to read at all. */
function scanAndParse(file: string): void {
  using db = new Database(file, { readonly: true })
  for (const { text } of db.query<{ text: string }, []>('SELECT text FROM entry').iterate())
    JSON.parse(text)
}

function forgetSnapshots(file: string): void {
  using db = new Database(file)
  db.run('DELETE FROM snapshot')
}

async function scan({ writer, now }: Opened, nth: number): Promise<void> {
  const refs = [{ kind: 'cup' as const, id: dayId('C', 3, nth) }]
  await withAir(await reload(writer.state(), refs, writer.reader), refs, now, writer.reader)
}

const note = ({ writer }: Opened, nth: number, round: number) =>
  writer.handle({
    id: `note-${nth}-${round}`,
    type: 'AddNote',
    data: { job: dayId('J', 3, nth), text: 'The customer called' },
  })

/** Nothing grows with history: the same asked of logs of different length, in turn. */
export const history = part('history', PROMISED, async (put, { entries }) => {
  title(`history: ${entries} entries, days of twenty jobs, sealed one behind the other`)
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-bench-'))
  const files = { short: join(folder, 'short.sqlite'), long: join(folder, 'long.sqlite') }
  const short = await writeBigLog(files.short, { ...BUSY, entries: SHORT })
  const start = performance.now()
  const long = await writeBigLog(files.long, { ...BUSY, entries })
  say('making of 100,000 entries', ((performance.now() - start) * 100) / long.entries, 's')

  await openMs(files.short, short)
  const alone = await openMs(files.long, long)
  const opens = { blank: [] as number[], snapshot: [] as number[], scan: [] as number[] }
  const blankShort: number[] = []
  for (let round = 0; round < ROUNDS; round += 1) {
    for (const file of Object.values(files)) forgetSnapshots(file)
    blankShort.push(await openMs(files.short, short))
    opens.blank.push(await openMs(files.long, long))
    opens.snapshot.push(await openMs(files.long, long))
    opens.scan.push(await ms(() => scanAndParse(files.long)))
  }
  const limit = { what: `reading ${entries} entries as JSON`, value: median(opens.scan) }
  put(SNAPSHOT, { ours: median(opens.snapshot), unit: 'ms', limit })
  const shorter = { what: `${SHORT} instead of ${entries} entries`, value: median(blankShort) }
  put(BLANK, { ours: median(opens.blank), unit: 'ms', limit: shorter })
  put(ALONE, { ours: alone, unit: 'ms', limit })

  const shops = [await opened(files.short, short), await opened(files.long, long)] as const
  const heldKib = () => JSON.stringify(shops[1].writer.state().things).length / KIB
  const before = heldKib()
  const took = { scan: [[], []] as number[][], note: [[], []] as number[][] }
  for (let round = 0; round < ROUNDS; round += 1)
    for (let nth = 0; nth < 15; nth += 1)
      for (const [which, shop] of shops.entries()) {
        took.scan[which]?.push(await ms(() => scan(shop, nth)))
        took.note[which]?.push(await ms(() => note(shop, nth, round)))
      }
  for (const [row, [few, many]] of [
    [SCAN, took.scan],
    [NOTE, took.note],
  ] as const) {
    const value = median(few ?? [])
    put(row, {
      ours: median(many ?? []),
      unit: 'ms',
      limit: { what: `${SHORT} instead of ${entries} entries`, value },
    })
  }
  put(KEPT, { ours: heldKib(), unit: 'KiB', limit: { what: 'before', value: before } })
  for (const shop of shops) await shop.close()
  rmSync(folder, { recursive: true, force: true })
})
