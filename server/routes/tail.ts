import { only, type Routes } from '../http.ts'
import { createTails } from '../tail.ts'

/**
 * GET /api/tail: committed entries as they come. Where to go on is said by Last-Event-ID, which a
 * browser sends by itself, else by ?after=. It never answers with an error: a browser would not come
 * again.
 */
export const tailRoutes: Routes = (app, deps) => {
  const tails = createTails({ ...deps, writer: deps.shops.ownWriter })

  only(app, 'GET', '/api/tail', (c) => {
    c.header('Content-Type', 'text/event-stream')
    // A proxy that gathers an answer before it hands it on would hold the stream back.
    c.header('X-Accel-Buffering', 'no')
    if (c.req.raw.method === 'HEAD') return c.body(null)
    // A quiet shop is not a dead connection.
    c.env?.server?.timeout(c.req.raw, 0)
    const stream = tails.open(c.req.header('Last-Event-ID') || c.req.query('after'))
    return c.body(stream.body)
  })
}
