import { limitedBody } from '../guard.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'

/** POST /api/calc/:name: a calculation of the trade. It records nothing. */
export const calcRoutes: Routes = (app) => {
  const path = '/api/calc/:name'
  app.post(path, limitedBody)
  only(app, 'POST', path, async (c) => {
    // Its schemas cost a start more than the few who ask it wait.
    const { calculate, calculatorNames } = await import('../../machines/trade/registry.ts')
    const name = c.req.param('name') ?? ''
    if (!calculatorNames.some((known) => known === name)) {
      const message = `No calculation is called ${JSON.stringify(name)}; accepted is one of ${calculatorNames.join(', ')}.`
      return c.json({ error: { field: 'name', message }, names: calculatorNames }, 404)
    }
    const read = await jsonOf(c)
    if ('error' in read) return sayWrong(c, read.error)
    const done = calculate(name, read.input)
    return done.ok ? c.json(done.value) : sayWrong(c, done.error)
  })
}
