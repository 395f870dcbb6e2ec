import { Hono } from 'hono'
import { compress } from 'hono/compress'
import { createMiddleware } from 'hono/factory'
import { headers, knownHost, sameOrigin } from './guard.ts'
import { type App, type AppDeps, type Env, type Routes, sayProblem } from './http.ts'
import { knownKiosks } from './kiosks.ts'
import { LogError } from './log/log.ts'
import { fault, problem, unreadable } from './problems.ts'
import { backupRoutes } from './routes/backup.ts'
import { bellRoutes } from './routes/bells.ts'
import { blendRoutes } from './routes/blend.ts'
import { calcRoutes } from './routes/calc.ts'
import { commandRoutes } from './routes/commands.ts'
import { dayRoutes } from './routes/day.ts'
import { kiosksRoute } from './routes/kiosks.ts'
import { printingRoutes } from './routes/printing.ts'
import { recordRoutes } from './routes/records.ts'
import { reviewRoutes } from './routes/reviews.ts'
import { sheetRoutes } from './routes/sheets.ts'
import { lossRoute, stateRoutes } from './routes/state.ts'
import { tailRoutes } from './routes/tail.ts'
import { watchingRoute } from './routes/watching.ts'

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

/** What the API says is true for a moment only, unless it says so itself: a picture never changes. */
const notKept = createMiddleware<Env>(async (c, next) => {
  await next()
  if (!c.res.headers.has('Cache-Control')) c.header('Cache-Control', 'no-store')
})

/**
 * The server's routes. It opens no port and makes no clock: a test asks it by app.request.
 * @param deps `more` is put behind the routes of the API
 */
export function createApp(deps: AppDeps): App {
  const app: App = new Hono<Env>()
  app.use(headers)
  app.use(knownHost(deps.hosts))
  app.use(sameOrigin)
  app.use('/api/*', notKept)
  app.use('/healthz', notKept)
  for (const path of LARGE) app.use(path, compress({ encoding: 'gzip' }))
  const kiosks = knownKiosks()
  for (const add of [...ROUTES, ...(deps.more ?? [])]) add(app, { ...deps, kiosks })
  app.notFound((c) => {
    return sayProblem(c, problem('notFound', { what: 'path', name: c.req.path }))
  })
  app.onError((error, c) => {
    deps.report(error)
    return sayProblem(c, error instanceof LogError ? unreadable(error) : fault())
  })
  return app
}
