import { Hono } from 'hono'
import { compress } from 'hono/compress'
import { TrieRouter } from 'hono/router/trie-router'
import { guarded, guardOf } from './guard.ts'
import { type App, type AppDeps, type Env, type Routes, sayProblem } from './http.ts'
import { knownKiosks } from './kiosks.ts'
import { LogError } from './log/log.ts'
import { fault, problem, unreadable } from './problems.ts'
import { backupRoutes } from './routes/backup.ts'
import { bellRoutes } from './routes/bells.ts'
import { blendRoutes } from './routes/blend.ts'
import { calcRoutes } from './routes/calc.ts'
import { commandRoutes, commandsOf, holdsCommands } from './routes/commands.ts'
import { dayRoutes } from './routes/day.ts'
import { kiosksRoute } from './routes/kiosks.ts'
import { printingRoutes } from './routes/printing.ts'
import { recordRoutes } from './routes/records.ts'
import { reviewRoutes } from './routes/reviews.ts'
import { sheetRoutes } from './routes/sheets.ts'
import { lossRoute, stateRoutes } from './routes/state.ts'
import { tailRoutes } from './routes/tail.ts'
import { watchingRoute } from './routes/watching.ts'
import { type Asked, askedBy } from './say.ts'

const ROUTES: readonly Routes[] = [
  commandRoutes,
  stateRoutes,
  lossRoute,
  tailRoutes,
  calcRoutes,
  blendRoutes,
  sheetRoutes,
  bellRoutes,
  recordRoutes,
  reviewRoutes,
  backupRoutes,
  printingRoutes,
  kiosksRoute,
  watchingRoute,
  dayRoutes,
]

/** Answers that are worth compressing. The tail is not: an entry would wait in the compressor. */
const LARGE = ['/api/state', '/api/entries', '/api/jobs', '/api/jobs/*'] as const

/**
 * The server's routes. It opens no port and makes no clock: a test asks it by app.request.
 * @param deps `more` is put behind the routes of the API
 */
export function createApp(deps: AppDeps): App {
  // Hono's usual router makes one expression of all routes at the first request, which then waits 3 ms longer.
  const app: App = new Hono<Env>({ router: new TrieRouter() })
  const guard = guardOf(deps.hosts)
  app.use(guarded(guard))
  for (const path of LARGE) app.use(path, compress({ encoding: 'gzip' }))
  const kiosks = knownKiosks()
  for (const add of [...ROUTES, ...(deps.more ?? [])]) add(app, { ...deps, kiosks })
  app.notFound((c) => {
    return sayProblem(c, problem('notFound', { what: 'path', name: c.req.path }))
  })
  const failed = (asked: Asked, error: unknown) => {
    deps.report(error)
    return sayProblem(asked, error instanceof LogError ? unreadable(error) : fault())
  }
  app.onError((error, c) => failed(c, error))
  // A press is what a person waits for: on the way through all routes it would lose more than it takes to read it.
  const byRoutes = app.fetch
  const commands = commandsOf(deps)
  const press = async (request: Request) => guard(request) ?? (await commands(request))
  app.fetch = (request, ...rest) =>
    holdsCommands(request)
      ? press(request).catch((error) => failed(askedBy(request), error))
      : byRoutes(request, ...rest)
  return app
}
