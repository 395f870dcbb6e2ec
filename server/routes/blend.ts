import { check } from '../../machines/accept.ts'
import { limitedBody } from '../guard.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'

/** POST /api/plan/blend: which neighbors to blend, how far, what is cut in and where the clear ends. It records nothing. */
export const blendRoutes: Routes = (app) => {
  const path = '/api/plan/blend'
  app.post(path, limitedBody)
  only(app, 'POST', path, async (c) => {
    const { blendPlan, blendSchema } = await import('../../machines/plan/blendPlan.ts')
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const checked = check(blendSchema, read.input)
    return checked.ok ? c.json(blendPlan(checked.value)) : sayWrong(c, checked)
  })
}
