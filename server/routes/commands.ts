import { limitedBody } from '../guard.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'

/** POST /api/commands: one command, or an array of them in order, each decided alone. */
export const commandRoutes: Routes = (app, { shops }) => {
  const path = '/api/commands'
  app.post(path, limitedBody)
  only(app, 'POST', path, async (c) => {
    const read = await jsonOf(c)
    if ('error' in read) return sayWrong(c, read.error)
    const { handle } = shops.ownWriter
    if (Array.isArray(read.input)) {
      // Started in order and in one turn: they are decided in order and share a commit.
      return c.json(await Promise.all(read.input.map((command: unknown) => handle(command))))
    }
    const { status, body } = await handle(read.input)
    return c.json(body, status)
  })
}
