import * as v from 'valibot'
import { check, fields, id40, yesNo } from '../../machines/accept.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'

const saidSchema = fields({ device: id40, sounds: yesNo, zone: v.optional(v.nullable(id40)) })

/** POST /api/kiosks: a kiosk says that it is open, where, and whether its bells can be heard. */
export const kiosksRoute: Routes = (app, { kiosks, clock }) =>
  only(app, 'POST', '/api/kiosks', async (c) => {
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const said = check(saidSchema, read.input)
    if (!said.ok) return sayWrong(c, said)
    const { device, sounds, zone = null } = said.value
    kiosks.heard({ device, sounds, zone }, clock.now())
    return c.json(kiosks.open(clock.now()))
  })
