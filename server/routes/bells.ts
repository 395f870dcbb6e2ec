import { bellFigures, FIGURE_TYPES } from '../../machines/bell/figures.ts'
import type { BellsAnswer } from '../../machines/contract.ts'
import { openHours } from '../../machines/shop/hours.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { countOf, only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { unreadable } from '../problems.ts'

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
      const between = { fromAt: from, toAt: Number.MAX_SAFE_INTEGER }
      const found = await Promise.all(
        FIGURE_TYPES.map((type) => ownWriter.reader.byType(type, between)),
      )
      // What is in the store but not in the state is not committed yet.
      const entries = found.flat().filter((entry) => entry.position <= state.head)
      const figures = bellFigures(entries, { from, to, ...(isOpen ? { isOpen } : {}) })
      return c.json({ days, hasHours: isOpen !== null, figures } satisfies BellsAnswer)
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })
}
