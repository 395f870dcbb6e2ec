import { buildKiosk } from '../kiosk/build.ts'
import packageJson from '../package.json' with { type: 'json' }
import { run, type ServeSettings } from './cli.ts'
import type { Clock } from './clock.ts'
import { photosFolderIn, Usable } from './data.ts'
import type { Env } from './http.ts'
import { LogError } from './log/log.ts'
import { freshFolder } from './practice/folder.ts'
import { layOut, PRACTICE_SPEED, type PracticeClock, practiceClock } from './practice/practice.ts'
import { kioskRoutes } from './routes/kiosk.ts'
import { labelRoutes } from './routes/labels.ts'
import { photoRoutes } from './routes/photos.ts'
import { timelineRoutes } from './routes/timeline.ts'
import { type Listening, startServer } from './serve.ts'

/** Puts the program together: the only file that makes clocks and sockets. */

const HOST = '127.0.0.1'

const clock: Clock = {
  now: () => Date.now(),
  every(ms, run) {
    const timer = setInterval(run, ms)
    return () => clearInterval(timer)
  },
}

type Fetch = (request: Request, env: Env['Bindings']) => Response | Promise<Response>

function listen(port: number, fetch: Fetch): Listening {
  try {
    const server = Bun.serve({
      hostname: HOST,
      port,
      // Bun shares a port that is taken, unless told not to or in development.
      reusePort: false,
      // Bun's page for a fault would show the program's sources.
      development: false,
      fetch: (request, own) => fetch(request, { server: own }),
    })
    return {
      url: `http://${HOST}:${server.port}`,
      pending: () => server.pendingRequests,
      stop: () => server.stop(true),
    }
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? String(cause.code) : ''
    throw new Usable(
      code === 'EADDRINUSE'
        ? `Port ${port} of ${HOST} is taken. Stop what uses it, or choose another with --port.`
        : `Port ${port} of ${HOST} cannot be opened (${code || 'no reason given'}). Choose another with --port.`,
      { cause },
    )
  }
}

/** For whoever looks after the server: a store's errors say what to do, others where they came from. */
const report = (error: unknown): void => {
  const isFault = error instanceof Error && !(error instanceof LogError)
  const what = isFault ? (error.stack ?? error.message) : String(error)
  process.stderr.write(`${new Date(clock.now()).toISOString()} ${what}\n`)
}

/** Resolves at the first of the signals that ask a service to stop; more of them change nothing. */
const askedToStop = (): Promise<void> =>
  new Promise((done) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => done())
  })

function practiceIn(folder: string): PracticeClock {
  freshFolder(folder)
  return practiceClock(clock, PRACTICE_SPEED)
}

async function serve(settings: ServeSettings): Promise<number> {
  const stopped = askedToStop()
  const practice = settings.isPractice ? practiceIn(settings.data) : null
  const timeZone = Intl.DateTimeFormat().resolvedOptions().timeZone
  const kiosk = await buildKiosk()
  const running = await startServer(settings, {
    clock: practice ?? clock,
    listen,
    // Of the kiosk's files: a kiosk of another build has to be loaded anew.
    build: kiosk.build,
    more: [
      labelRoutes,
      photoRoutes(photosFolderIn(settings.data)),
      timelineRoutes,
      kioskRoutes(kiosk, practice ? PRACTICE_SPEED : 1),
    ],
    timeZone,
    report,
  })
  if (practice) await layOut(running.shops.ownWriter, practice)
  process.stdout.write(`Flashbell is at ${running.url} (data in ${settings.data})\n`)
  await stopped
  await running.stop()
  return 0
}

// Who reads no further, such as `head`, has seen enough.
process.stdout.on('error', () => process.exit(1))
// Not exit() at the end: it would cut off what a pipe has not taken yet.
process.exitCode = await run(process.argv.slice(2), {
  env: process.env,
  stdin: () => Bun.stdin.text(),
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  version: packageJson.version,
  serve,
})
