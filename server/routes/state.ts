import type { StateAnswer } from '../../machines/contract.ts'
import { FOLD_VERSION } from '../../machines/state.ts'
import { countOf, only, type Routes, sayWrong } from '../http.ts'
import { unreadable } from '../problems.ts'
import { tailId } from '../tailId.ts'

const LIMIT = 500
const LIMIT_MOST = 1_000

/** What is: the open work, the entries behind it, and whether the server is well. */
export const stateRoutes: Routes = (app, { shops, clock, build, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/state', (c) => {
    const state = ownWriter.state()
    const answer: StateAnswer = {
      state,
      head: state.head,
      tail: tailId({ position: state.head, hash: state.headHash }),
      serverTime: clock.now(),
      build,
      foldVersion: FOLD_VERSION,
    }
    return c.json(answer)
  })

  only(app, 'GET', '/api/entries', async (c) => {
    const after = countOf(c, 'after', { min: 0, max: Number.MAX_SAFE_INTEGER, otherwise: 0 })
    if (typeof after !== 'number') return sayWrong(c, after.error)
    const limit = countOf(c, 'limit', { min: 1, max: LIMIT_MOST, otherwise: LIMIT })
    if (typeof limit !== 'number') return sayWrong(c, limit.error)
    try {
      const { head } = ownWriter.state()
      const page = await ownWriter.reader.page({ after, limit })
      return c.json({ head, entries: page.filter((entry) => entry.position <= head) })
    } catch (error) {
      report(error)
      const { status, body } = unreadable(error)
      return c.json(body, status)
    }
  })

  only(app, 'GET', '/healthz', async (c) => {
    const { head } = ownWriter.state()
    const about = { build, foldVersion: FOLD_VERSION, head, decides: !ownWriter.isNewer() }
    try {
      // Asks the store itself: the state would answer from memory with the disk gone.
      await ownWriter.reader.page({ after: Math.max(0, head - 1), limit: 1 })
      return c.json({ ok: true, db: 'ok', ...about })
    } catch (error) {
      report(error)
      const { status, body } = unreadable(error)
      return c.json({ ok: false, db: 'failed', ...about, ...body }, status)
    }
  })
}
