import { wrongAt } from '../../machines/contract.ts'
import { limitedBody } from '../guard.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'
import { sayFor } from '../say.ts'

/** POST /api/calc/:name: a calculation of the trade. It records nothing. */
export const calcRoutes: Routes = (app) => {
  const path = '/api/calc/:name'
  app.post(path, limitedBody)
  only(app, 'POST', path, async (c) => {
    // Its schemas cost a start more than the few who ask it wait.
    const { calculate, calculatorNames } = await import('../../machines/trade/registry.ts')
    const name = c.req.param('name') ?? ''
    if (!calculatorNames.some((known) => known === name)) {
      const unknown = wrongAt('name', name, 'oneOf', { words: calculatorNames })
      return c.json({ ...sayFor(c).fields(unknown), names: calculatorNames }, 404)
    }
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const done = calculate(name, read.input)
    return done.ok ? c.json(done.value) : sayWrong(c, done)
  })
}
