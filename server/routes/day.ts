import type { DayAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { DAY_TYPES, dayCounts } from '../../machines/plan/dayCounts.ts'
import { numberOfDay, startOfDay } from '../../machines/shop/calendar.ts'
import { dayIn } from '../../machines/shop/hours.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { only, type Routes, sayProblem } from '../http.ts'
import { unreadable } from '../problems.ts'
import { workTurn } from '../turn.ts'

/** GET /api/day: what the shop did since its last midnight, read from the log. */
export const dayRoutes: Routes = (app, { shops, clock, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/day', async (c) => {
    const state = ownWriter.state()
    const now = clock.now()
    const { timeZone } = settingsOf(state)
    const fromAt = startOfDay(numberOfDay(dayIn(timeZone)(now)), timeZone)
    try {
      const found: Entry[] = []
      for (const type of DAY_TYPES) {
        found.push(...(await ownWriter.reader.byType(type, { fromAt, toAt: now })))
        await workTurn()
      }
      // What is in the store but not in the state is not committed yet.
      const entries = found.filter(({ position }) => position <= state.head)
      const voids = await ownWriter.reader.voidsOf(entries.map(({ id }) => id))
      const voided = new Set(voids.map(({ data }) => String(data.entry)))
      return c.json({ fromMs: fromAt, counts: dayCounts(entries, voided) } satisfies DayAnswer)
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })
}
