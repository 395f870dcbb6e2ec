import { uptime } from 'node:os'
import { join } from 'node:path'
import packageJson from '../package.json' with { type: 'json' }
import { backupInChild } from './backup/child.ts'
import { run as runCommand, type ServeSettings } from './cli.ts'
import { cacheFolderIn, photosFolderIn } from './data.ts'
import type { Routes } from './http.ts'
import { exportPageIn, kioskFiles } from './kioskFiles.ts'
import type { KioskFiles } from './kioskPacked.ts'
import { labels } from './labelThread.ts'
import { type Fetch, listen } from './listen.ts'
import { LogError } from './log/log.ts'
import { lookThrough } from './lookThrough.ts'
import { PRACTICE_SPEED } from './practice/practice.ts'
import { type PracticeShop, practiceShop } from './practice/shop.ts'
import { netPost } from './printing/netPost.ts'
import { forecastRoutes } from './routes/forecast.ts'
import { genealogyRoutes } from './routes/genealogy.ts'
import { jobExportRoutes } from './routes/jobExport.ts'
import { jobSearchRoutes } from './routes/jobs.ts'
import { kioskRoutes } from './routes/kiosk.ts'
import { labelRoutes, openedByPhone } from './routes/labels.ts'
import { photoRoutes } from './routes/photos.ts'
import { practiceRoute } from './routes/practice.ts'
import { timelineRoutes } from './routes/timeline.ts'
import { traceRoutes } from './routes/trace.ts'
import { startServer } from './serve.ts'
import { sampling } from './time/computer.ts'
import { type ComputerClock, timekeeper } from './time/timekeeper.ts'
import { warmAnswers } from './warmAnswers.ts'
import { warmLabels } from './warmLabels.ts'

/** Puts the program together: the only file that makes clocks and names folders. */

const computer: ComputerClock = {
  sample: sampling({
    runMs: () => performance.now(),
    wallMs: () => Date.now(),
    upMs: () => uptime() * 1_000,
  }),
  every(ms, run) {
    const timer = setInterval(run, ms)
    return () => clearInterval(timer)
  },
}

/** For the person who runs the server: a store's errors say what to do, others where they came from. */
const report = (error: unknown): void => {
  const isFault = error instanceof Error && !(error instanceof LogError)
  const cause = error instanceof LogError && error.op === 'fold' ? error.cause : null
  const from = cause instanceof Error ? `\n${cause.stack ?? cause.message}` : ''
  const what = isFault ? (error.stack ?? error.message) : `${error}${from}`
  process.stderr.write(`${new Date().toISOString()} ${what}\n`)
}

/** How often the process that started this one is looked for. */
const STARTER_EVERY_MS = 500

/**
 * Resolves at the first of the signals that ask a service to stop; more of them change nothing. Also
 * when the command that started this process is gone: a kill of it is not passed on, and a server
 * that nobody holds any more would keep the port and the folder.
 */
const askedToStop = (): Promise<void> =>
  new Promise((done) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => done())
    const starter = Number(process.env.FLASHBELL_STARTED_BY ?? 0)
    if (starter !== process.ppid) return
    const looking = setInterval(() => {
      if (process.ppid === starter) return
      clearInterval(looking)
      done()
    }, STARTER_EVERY_MS)
    looking.unref()
  })

const PRACTICE_SETTING = 'FLASHBELL_PRACTICE_PORT'

const look = (data: string) => lookThrough([process.execPath, '--bun', Bun.main], data)

/** What both shops answer besides the API's core. */
const routesOn = (data: string, kiosk: KioskFiles): Routes[] => [
  labelRoutes,
  openedByPhone,
  photoRoutes(photosFolderIn(data)),
  timelineRoutes,
  traceRoutes,
  jobExportRoutes(() => exportPageIn(kiosk)),
  jobSearchRoutes(cacheFolderIn(data)),
  genealogyRoutes(cacheFolderIn(data)),
  forecastRoutes(cacheFolderIn(data)),
]

async function serve(settings: ServeSettings): Promise<number> {
  const stopped = askedToStop()
  const kiosk = await kioskFiles(settings.cache ?? cacheFolderIn(settings.data))
  const timeZone = () => Intl.DateTimeFormat().resolvedOptions().timeZone
  // The build is of the kiosk's files: a kiosk of another build has to be reloaded.
  const tell = (sentence: string) => process.stderr.write(`${sentence}\n`)
  const deps = { listen, build: kiosk.build, timeZone, report, look, tell }
  const beside = (port: number, fetch: Fetch) =>
    listen(port, fetch, settings.isPractice ? undefined : PRACTICE_SETTING)
  /** @param own the address of the shop that practice is left for, where one is served */
  const practiceOf = (port: number, data: string, own: () => string | null): PracticeShop => {
    const page = () => kioskRoutes(kiosk, { speed: PRACTICE_SPEED, own: own() })
    const more = () => [...routesOn(data, kiosk), page()]
    return practiceShop({ port, data }, { ...deps, computer, listen: beside, more })
  }
  if (settings.isPractice) {
    const practice = practiceOf(settings.port, settings.data, () => null)
    return await until(stopped, settings, await practice.open(), practice.stop)
  }
  const practice = practiceOf(
    settings.practicePort,
    join(settings.data, 'practice'),
    () => running.url,
  )
  const more = [...routesOn(settings.data, kiosk), practiceRoute(practice.open), kioskRoutes(kiosk)]
  const running = await startServer(settings, {
    ...deps,
    clock: (lastMs) => timekeeper(computer, lastMs),
    more,
    post: netPost,
    runBackup: backupInChild([process.execPath, '--bun', Bun.main]),
  })
  warmAnswers(running, report)
  return await until(stopped, settings, running, async () => {
    await practice.stop()
    await running.stop()
  })
}

async function until(
  stopped: Promise<void>,
  { data }: ServeSettings,
  { url }: { readonly url: string },
  stop: () => Promise<void>,
): Promise<number> {
  // Not by the stream, whose making would keep the first answer waiting for 5 ms.
  console.log(`Flashbell is at ${url} (data in ${data})`)
  // A server that ends while its labels are still being made ready has lost nothing.
  let isEnding = false
  warmLabels((error) => {
    if (!isEnding) report(error)
  })
  await stopped
  isEnding = true
  await stop()
  labels.end()
  return 0
}

let isPiped = false

function out(text: string): void {
  // The reader (such as `head`) closed the pipe: stop.
  if (!isPiped) process.stdout.on('error', () => process.exit(1))
  isPiped = true
  process.stdout.write(text)
}

/** @returns null where nothing answers there */
async function askedServer(port: number, path: string, body?: object) {
  const init = body && { method: 'POST', body: JSON.stringify(body) }
  const answer = await fetch(`http://127.0.0.1:${port}${path}`, init).catch(() => null)
  return (
    answer && { status: answer.status, body: (await answer.json().catch(() => null)) as unknown }
  )
}

/**
 * Runs a command line of this program to its end; a server's end is when it is asked to stop.
 * @param args what follows the program's name
 * @returns the exit code
 */
export async function run(args: string[]): Promise<number> {
  return await runCommand(args, {
    env: process.env,
    stdin: () => Bun.stdin.text(),
    out,
    err: (text) => process.stderr.write(text),
    version: packageJson.version,
    now: () => Date.now(),
    server: (port) => ({
      port,
      ask: (path, body) => askedServer(port, path, body),
      wait: (ms) => Bun.sleep(ms),
      newId: () => crypto.randomUUID(),
    }),
    serve,
  })
}
