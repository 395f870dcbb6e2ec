import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { ForecastAnswer } from '../machines/contract.ts'
import { forecastOf } from '../machines/plan/forecast.ts'
import { figuresOf, type Learning, NOTHING_LEARNED } from '../machines/plan/learning.ts'
import type { State } from '../machines/state.ts'
import { isServed, logFileIn, Usable } from './data.ts'
import { learnedFrom } from './learnedFile.ts'
import { loadShop } from './load.ts'
import { inPages } from './log/log.ts'
import { openToRead } from './log/readOnly.ts'
import { sqliteStore } from './log/sqlite.ts'
import { readerOf } from './reading.ts'

/** `flashbell forecast`: what GET /api/forecast answers, of a folder's log or of a rehearsal. */

export function forecastAnswer(state: State, now: number, learning: Learning): ForecastAnswer {
  const learned = figuresOf(learning)
  const forecast = forecastOf(state, now, { figures: learned })
  return { head: state.head, forecast, learned, behind: 0 }
}

/** As often as a server evicts what is over while it folds a log. */
const EVERY = 5_000

/**
 * The forecast of a shop's log, which is read in a copy: a server may be writing to it meanwhile.
 * @param now UTC ms; a shop whose log is ahead of that is forecast from its last entry on
 * @throws Usable or LogError with a sentence
 */
export async function forecastOfFolder(data: string, now: number): Promise<ForecastAnswer> {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-forecast-'))
  try {
    const copy = join(folder, 'shop.sqlite')
    const reader = openToRead(logFileIn(data), isServed(data))
    try {
      reader.db.run('VACUUM INTO ?', [copy])
    } finally {
      await reader.close()
    }
    return await forecastOfLog(copy, now, data)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

async function forecastOfLog(file: string, now: number, data: string): Promise<ForecastAnswer> {
  const store = sqliteStore(file)
  try {
    const shop = await store.getMeta('shop')
    if (shop === null)
      throw new Usable(`The log in ${data} is of no shop yet. Start the server once.`)
    const { state } = await loadShop(shop, { store, every: EVERY, now, mayEvict: true })
    let learning = NOTHING_LEARNED
    for await (const entry of inPages(readerOf(store, shop).page, { after: 0 }))
      learning = learnedFrom(learning, entry)
    return forecastAnswer(state, Math.max(now, state.recordedAt), learning)
  } finally {
    await store.close()
  }
}
