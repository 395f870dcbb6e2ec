import { randomUUID } from 'node:crypto'
import { rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { CommandType } from '../../machines/commands.ts'
import { createApp } from '../../server/app.ts'
import { type Clock, undoubted } from '../../server/clock.ts'
import { exportPageIn, kioskFiles } from '../../server/kioskFiles.ts'
import type { KioskFiles } from '../../server/kioskPacked.ts'
import type { Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { photosIn } from '../../server/photos.ts'
import type { Post } from '../../server/printing/ippPrinter.ts'
import { openPrinting } from '../../server/printing/printing.ts'
import { forecastRoutes } from '../../server/routes/forecast.ts'
import { genealogyRoutes } from '../../server/routes/genealogy.ts'
import { jobExportRoutes } from '../../server/routes/jobExport.ts'
import { jobSearchRoutes } from '../../server/routes/jobs.ts'
import { kioskRoutes } from '../../server/routes/kiosk.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { photoRoutes } from '../../server/routes/photos.ts'
import { timelineRoutes } from '../../server/routes/timeline.ts'
import { traceRoutes } from '../../server/routes/trace.ts'
import { openShops, type Shops } from '../../server/shops.ts'
import type { Site } from './browser.ts'
import { KIOSK_CACHE } from './serverProcess.ts'
import { wholeLog } from './serverShop.ts'

/** The real server in this process, with a clock that the test moves. No production route moves time. */
export type ShopSite = Site & {
  readonly shops: Shops
  readonly clock: MovedClock
  /** Sends a command that must be accepted. */
  readonly send: (type: CommandType, data: object, extra?: object) => Promise<void>
  /** Closes the port and the tails; the log stays. */
  readonly away: () => Promise<void>
  /** Opens the same port again on the same log, as a server of another build if one is named. */
  readonly back: (build?: string) => Promise<void>
}

/** A clock that runs with the real one from a start of its own, and can be moved on. */
export class MovedClock implements Clock {
  #aheadMs: number
  readonly #beats = new Set<() => void>()

  constructor(startMs: number) {
    this.#aheadMs = startMs - Date.now()
  }

  now = (): number => Date.now() + this.#aheadMs

  standing = () => undoubted(this.now())

  /** Moves on, and lets everything that waits for a beat have it at once: kiosks hear the new time. */
  move(ms: number): void {
    this.#aheadMs += ms
    for (const beat of this.#beats) beat()
  }

  every(ms: number, run: () => void): () => void {
    const timer = setInterval(run, ms)
    this.#beats.add(run)
    return () => {
      clearInterval(timer)
      this.#beats.delete(run)
    }
  }
}

let built: Promise<KioskFiles> | undefined

const raise = (error: unknown) => {
  throw error
}

const noPrinter: Post = () => Promise.reject(new Error('no printer can be reached here'))

/**
 * @param startMs what the server's clock shows at the start, UTC ms
 * @param post how printers are reached; without it none can be
 * @param report gets a fault of the server, which fails the test unless it is expected
 */
export async function serveShop(
  startMs: number,
  store: Store = memoryStore(),
  report: (error: unknown) => void = raise,
  post: Post = noPrinter,
): Promise<ShopSite> {
  built ??= kioskFiles(KIOSK_CACHE)
  const kiosk = await built
  const clock = new MovedClock(startMs)
  // Made by the first photo: most tests take none, and one that is stopped leaves nothing behind.
  const photos = join(tmpdir(), `flashbell-photos-${randomUUID()}`)
  const open = () =>
    openShops({
      store,
      clock,
      report,
      timeZone: () => 'Europe/Madrid',
      hasPhoto: photosIn(photos).has,
    })
  let shops = await open()
  const printing = await openPrinting({ store, clock, writer: shops.ownWriter, post, report })
  let count = 0
  const listen = (port: number, build = kiosk.build) => {
    const app = createApp({
      shops,
      clock,
      log: wholeLog,
      build,
      report,
      printing,
      more: [
        labelRoutes,
        photoRoutes(photos),
        timelineRoutes,
        traceRoutes,
        jobExportRoutes(() => exportPageIn(kiosk)),
        jobSearchRoutes(null),
        genealogyRoutes(null),
        forecastRoutes(null),
        kioskRoutes(kiosk),
      ],
    })
    return Bun.serve({
      port,
      hostname: '127.0.0.1',
      development: false,
      fetch: (request, server) => app.fetch(request, { server }),
    })
  }
  let server = listen(0)
  const { port } = server
  const away = async () => {
    await printing.stop()
    await shops.close()
    await server.stop(true)
  }
  return {
    url: `http://127.0.0.1:${port}`,
    get shops() {
      return shops
    },
    clock,
    async send(type, data, extra = {}) {
      count += 1
      const answer = await shops.ownWriter.handle({ id: `test-${count}`, type, data, ...extra })
      if (answer.status !== 200) throw new Error(`${type}: ${JSON.stringify(answer.body)}`)
    },
    away,
    async back(build) {
      shops = await open()
      server = listen(port as number, build)
    },
    async stop() {
      try {
        await away()
      } finally {
        await rm(photos, { recursive: true, force: true })
      }
    },
  }
}
