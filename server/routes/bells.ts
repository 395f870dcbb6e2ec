import { bellFigures, FIGURE_TYPES } from '../../machines/bell/figures.ts'
import type { BellsAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { openHours } from '../../machines/shop/hours.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { countOf, only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { unreadable } from '../problems.ts'
import { workTurn } from '../turn.ts'

const DAY_MS = 86_400_000
/** The period over which the shares of the classes are judged. */
const DAYS = 30
const DAYS_MOST = 366

/** GET /api/bells?days=: how the shop's bells did in the days up to now, read from the log. */
export const bellRoutes: Routes = (app, { shops, clock, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/bells', async (c) => {
    const days = countOf(c, 'days', { min: 1, max: DAYS_MOST, otherwise: DAYS })
    if (typeof days !== 'number') return sayWrong(c, days)
    const state = ownWriter.state()
    // What rings at this very moment has rung.
    const to = clock.now() + 1
    const from = to - days * DAY_MS
    const isOpen = openHours(settingsOf(state))
    try {
      const found: Entry[] = []
      // Day by day: a year of them at once would hold up every press.
      for (let day = from; day < to; day += DAY_MS) {
        const toAt = day + DAY_MS < to ? day + DAY_MS - 1 : Number.MAX_SAFE_INTEGER
        for (const type of FIGURE_TYPES)
          found.push(...(await ownWriter.reader.byType(type, { fromAt: day, toAt })))
        await workTurn()
      }
      // What is in the store but not in the state is not committed yet.
      const entries = found.filter((entry) => entry.position <= state.head)
      const figures = bellFigures(entries, { from, to, ...(isOpen ? { isOpen } : {}) })
      return c.json({ days, hasHours: isOpen !== null, figures } satisfies BellsAnswer)
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })
}
