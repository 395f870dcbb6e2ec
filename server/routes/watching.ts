import type { WatchingAnswer } from '../../machines/contract/watching.ts'
import { only, type Routes, sayProblem } from '../http.ts'
import { lastLabel } from '../lastLabel.ts'
import { unreadable } from '../problems.ts'

/** GET /api/watching: log, disk, backup, clock, kiosks and the last label, for the page in Setup. */
export const watchingRoute: Routes = (app, deps) => {
  const { shops, clock, log, kiosks, backups, report } = deps
  const { ownWriter } = shops
  only(app, 'GET', '/api/watching', async (c) => {
    const nowMs = clock.now()
    try {
      return c.json({
        nowMs,
        log: { entries: ownWriter.state().head, loss: log.loss(), check: log.check() },
        disk: { trouble: log.disk(), freeMb: log.freeMb() },
        backup: backups?.answer() ?? null,
        clock: clock.standing(),
        kiosks: kiosks.list(nowMs),
        label: await lastLabel(ownWriter.reader, nowMs),
      } satisfies WatchingAnswer)
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })
}
