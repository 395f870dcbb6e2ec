import type { JobsAnswer } from '../../machines/contract.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { forecastRoutes } from '../../server/routes/forecast.ts'
import { genealogyRoutes } from '../../server/routes/genealogy.ts'
import { jobExportRoutes } from '../../server/routes/jobExport.ts'
import { jobSearchRoutes } from '../../server/routes/jobs.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { photoRoutes } from '../../server/routes/photos.ts'
import { timelineRoutes } from '../../server/routes/timeline.ts'
import { traceRoutes } from '../../server/routes/trace.ts'
import { nextTurn } from '../../server/turn.ts'
import { DAY_MS, QUIET } from './bigDay.ts'
import { writeBigLog } from './bigLog.ts'
import { countingStore } from './countingStore.ts'
import { logFolder } from './logFiles.ts'
import { openTestShop, START_MS, TestClock } from './serverShop.ts'

export type CountedShop = Awaited<ReturnType<typeof countedShop>>

/** A shop of years behind its last day, whose reads of the log are counted. @param entries of its log */
export async function countedShop(entries: number) {
  const { file, folder, remove } = logFolder()
  const { days } = await writeBigLog(file, { ...QUIET, entries })
  const clock = new TestClock()
  clock.advance((days + 1) * DAY_MS - (clock.now() - START_MS))
  const counting = countingStore(sqliteStore(file))
  const more = [
    ...[labelRoutes, timelineRoutes, traceRoutes],
    jobExportRoutes(() => ({ script: '', style: '' })),
    ...[photoRoutes(folder), jobSearchRoutes(null), genealogyRoutes(null), forecastRoutes(null)],
  ]
  const shop = await openTestShop({ store: counting.store, clock, more })
  // The index of jobs reads the whole log once: not while reads are counted.
  const isBehind = async () => {
    const asked = await Promise.all(
      ['/api/jobs', '/api/lots', '/api/learned'].map((path) => shop.get(path)),
    )
    return asked.some(({ body }) => (body as JobsAnswer).behind > 0)
  }
  while (await isBehind()) await nextTurn()
  /** The most rows that were read between two turns of whoever else waits. */
  const mostInATurn = async (ask: () => Promise<unknown>) => {
    let [most, before, isDone] = [0, counting.rows(), false]
    const look = () => {
      most = Math.max(most, counting.rows() - before)
      before = counting.rows()
      if (!isDone) setImmediate(look)
    }
    setImmediate(look)
    await ask()
    isDone = true
    look()
    return most
  }
  const counted = async (ask: () => Response | Promise<Response>) => {
    // What the indexes still read of the command before is not of this one.
    while (await isBehind()) await nextTurn()
    const [rows, already] = [counting.rows(), counting.asked.length]
    let status = 0
    const most = await mostInATurn(async () => {
      const answer = await ask()
      status = answer.status
      await answer.text()
    })
    return { status, most, rows: counting.rows() - rows, asked: counting.asked.slice(already) }
  }
  const close = async () => {
    await counting.store.close()
    remove()
  }
  return { shop, clock, counted, mostInATurn, close }
}
