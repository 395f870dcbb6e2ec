import { limitedBody } from '../guard.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'
import { sayFor } from '../say.ts'

/** POST /api/commands: one command, or an array of them in order, each decided alone. */
export const commandRoutes: Routes = (app, { shops, clock }) => {
  const path = '/api/commands'
  app.post(path, limitedBody)
  only(app, 'POST', path, async (c) => {
    const read = await jsonOf(c)
    if ('error' in read) return sayWrong(c, read)
    const { handle } = shops.ownWriter
    if (Array.isArray(read.input)) {
      // Started in order and in one turn: they are decided in order and share a commit.
      const answers = await Promise.all(read.input.map((command: unknown) => handle(command)))
      const say = sayFor(c, clock)
      return c.json(answers.map(say.answer))
    }
    const answer = await handle(read.input)
    const { status, body } = sayFor(c, clock).answer(answer)
    return c.json(body, status)
  })
}
