import { createApp } from './app.ts'
import { type Backups, openBackups, type RunBackup } from './backup/schedule.ts'
import type { ServeSettings } from './cli.ts'
import {
  lockFolder,
  logFileIn,
  markFileIn,
  photosFolderIn,
  refuseLostShop,
  wasKilled,
} from './data.ts'
import type { App, Env, Routes } from './http.ts'
import { watchDisk } from './log/disk.ts'
import { LogError, RESTORE, type Store } from './log/log.ts'
import { readMark } from './log/mark.ts'
import { sqliteStore } from './log/sqlite.ts'
import { watchLog } from './log/watch.ts'
import { type Look, watchWhole } from './log/wholeCheck.ts'
import { photosIn } from './photos.ts'
import type { Post } from './printing/ippPrinter.ts'
import { openPrinting, type Printing } from './printing/printing.ts'
import { inEnglish } from './say.ts'
import { openShops, type Shops } from './shops.ts'
import { keepTime } from './time/keepTime.ts'
import type { Timekeeper } from './time/timekeeper.ts'

/** A socket that answers with an app. */
export type Listening = {
  readonly url: string
  /** Requests that are not answered yet. */
  readonly pending: () => number
  /** Ends it, even while clients are connected. */
  readonly stop: () => Promise<void>
}

export type ServeDeps = {
  /** @param lastMs the time of the last entry or of the mark beside the log; null for a new shop */
  readonly clock: (lastMs: number | null) => Timekeeper
  /** @throws Usable where the port is taken or not allowed */
  readonly listen: (
    port: number,
    fetch: (request: Request, env: Env['Bindings']) => Response | Promise<Response>,
  ) => Listening
  readonly build: string
  readonly timeZone: () => string
  readonly report: (error: unknown) => void
  /** Says to the person who starts it what it waits for. */
  readonly tell?: (sentence: string) => void
  /** Looks through the whole log of a folder, beside what is answered. */
  readonly look: (data: string) => Look
  readonly more?: readonly Routes[]
  /** Makes a backup beside the server; without it, none are set up here. */
  readonly runBackup?: RunBackup
  /** How printers are reached; without it nothing is printed from here. */
  readonly post?: Post
}

export type Running = {
  readonly url: string
  readonly app: App
  readonly shops: Shops
  /** Takes no more writes, finishes what was begun, stores a snapshot, and releases everything. */
  readonly stop: () => Promise<void>
}

/**
 * Puts a server together on a data folder.
 * @throws Usable or LogError with a sentence for the person who started it; nothing is left open then
 */
export async function startServer(
  settings: Pick<ServeSettings, 'port' | 'data'>,
  deps: ServeDeps,
): Promise<Running> {
  const lock = lockFolder(settings.data)
  let store: Store | undefined
  try {
    refuseLostShop(settings.data)
    const isAfterKill = wasKilled(settings.data)
    store = sqliteStore(logFileIn(settings.data), ({ done, of }) =>
      deps.tell?.(`An older program’s log is made ready, once: ${done} of ${of} entries.`),
    )
    const shop = await store.getMeta('shop')
    refuseLostShop(settings.data, shop === null)
    await refuseOtherShop(store, shop, settings.data)
    return await startOn(store, lock.release, settings, { ...deps, isAfterKill })
  } catch (error) {
    await store?.close()
    lock.release()
    throw error
  }
}

/**
 * A log that holds entries, and none of the shop that it is said to be of: the disk changed one of the
 * two. To go on would begin another shop beside the one that was.
 * @throws LogError `damaged`
 */
async function refuseOtherShop(store: Store, shop: string | null, data: string): Promise<void> {
  const shops = await store.shops()
  if (shops.length === 0 || (shop !== null && shops.includes(shop))) return
  const what = `${logFileIn(data)} holds the entries of shop ${shops.join(', ')}, but says that it is of ${shop ?? 'none'}.`
  throw new LogError({ op: 'open', shop }, 'damaged', what, RESTORE)
}

async function startOn(
  store: Store,
  unlock: () => void,
  { port, data }: Pick<ServeSettings, 'port' | 'data'>,
  deps: ServeDeps & { readonly isAfterKill: boolean },
): Promise<Running> {
  const { build, timeZone, report, isAfterKill, more = [], runBackup, post } = deps
  const path = markFileIn(data)
  const clock = deps.clock(await lastTime(store, path))
  // What is closed at the stop, or where the start fails half way: the last one opened first.
  const closing = [clock.stop]
  let backups: Backups | null = null
  let printing: Printing | null = null
  try {
    const disk = watchDisk({ file: logFileIn(data), every: clock.every })
    closing.unshift(disk.stop)
    const { has: hasPhoto } = photosIn(photosFolderIn(data))
    const shops = await openShops({
      ...{ store: disk.guarded(store), clock, timeZone, report, hasPhoto },
    })
    const { ownWriter: writer } = shops
    keepTime(clock, writer, report)
    const look = () => deps.look(data)
    const whole = await watchWhole({ store, writer, clock, isAfterKill, look, report })
    closing.unshift(whole.stop)
    const standing = { ...disk, trouble: () => disk.trouble() ?? whole.damage() }
    const log = await watchLog({
      ...{ path, log: store, writer, disk: standing, check: whole.last, clock, report },
    })
    closing.unshift(log.close)
    const loss = log.loss()
    if (loss) report(inEnglish(clock.now()).loss(loss))
    backups = runBackup
      ? await openBackups({ data, store, clock, writer, run: runBackup, report })
      : null
    printing = post ? await openPrinting({ store, clock, writer, post, report }) : null
    const app = createApp({ shops, clock, log, build, report, more, backups, printing })
    const listening = deps.listen(port, (request, env) => app.fetch(request, env))
    return {
      url: listening.url,
      app,
      shops,
      async stop() {
        // It records what came out: before the shop closes.
        await printing?.stop()
        // Closes the tails too.
        await shops.close()
        await answered(listening)
        await listening.stop()
        await backups?.stop()
        for (const close of closing) close()
        await store.close()
        unlock()
      },
    }
  } catch (error) {
    await printing?.stop()
    await backups?.stop()
    for (const close of closing) close()
    throw error
  }
}

/**
 * When the shop was last known to be open: by the mark, whose time a person may have put right, else
 * by the last entry. Null for a new shop.
 */
async function lastTime(store: Store, markPath: string): Promise<number | null> {
  const shop = await store.getMeta('shop')
  if (shop === null) return null
  const { position, recordedAt } = await store.head(shop)
  const mark = readMark(markPath)?.mark
  const isOfThisLog = mark?.shop === shop && mark.head >= position && mark.atMs > 0
  if (mark && isOfThisLog) return mark.atMs
  return position === 0 ? null : recordedAt
}

/** How many turns the last answers get to leave; a client that does not read gets no more. */
const TURNS_MOST = 200

async function answered(listening: Listening): Promise<void> {
  for (let turn = 0; listening.pending() > 0 && turn < TURNS_MOST; turn += 1)
    await new Promise((done) => setTimeout(done, 5))
}
