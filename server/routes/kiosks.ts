import { check, fields, id40, yesNo } from '../../machines/accept.ts'
import { jsonOf, only, type Routes, sayWrong } from '../http.ts'

/** POST /api/kiosks: a kiosk says that it is open, and whether its bells can be heard. */
export const kiosksRoute: Routes = (app, { kiosks, clock }) =>
  only(app, 'POST', '/api/kiosks', async (c) => {
    const read = await jsonOf(c)
    if ('error' in read) return sayWrong(c, read)
    const said = check(fields({ device: id40, sounds: yesNo }), read.input)
    if (!said.ok) return sayWrong(c, said)
    kiosks.heard(said.value.device, said.value.sounds, clock.now())
    return c.json(kiosks.open(clock.now()))
  })
