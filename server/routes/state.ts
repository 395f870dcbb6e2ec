import { check, fields, sha256Hex } from '../../machines/accept.ts'
import { packed } from '../../machines/contract/packedState.ts'
import type {
  ClockHealth,
  EntriesAnswer,
  Health,
  LogHealth,
  LogLoss,
  StateAnswer,
} from '../../machines/contract.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { FOLD_VERSION } from '../../machines/state.ts'
import type { Clock } from '../clock.ts'
import { clockSpan } from '../clockSpan.ts'
import { countOf, jsonOf, only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { notStored, unreadable } from '../problems.ts'
import { sayFor } from '../say.ts'
import { standingOf } from '../standing.ts'
import { tailId } from '../tailId.ts'

function clockHealth(clock: Clock): ClockHealth {
  const { doubt, wallMs } = clock.standing()
  if (doubt === null) return { code: 'ok' }
  return { code: 'notConfirmed', params: { doubt, nowMs: clock.now(), wallMs } }
}

function logHealth(loss: LogLoss | null): LogHealth {
  if (loss === null) return { code: 'ok' }
  const { kind, ...params } = loss
  return { code: kind, params }
}

const LIMIT = 500
const LIMIT_MOST = 1_000

/**
 * POST /api/log/dismiss: somebody has read that the log lacks entries. The body names the loss by the
 * hash that was known, so that a later one is not dismissed unread.
 */
export const lossRoute: Routes = (app, { log }) =>
  only(app, 'POST', '/api/log/dismiss', async (c) => {
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const asked = check(fields({ knownHash: sha256Hex }), read.input)
    if (!asked.ok) return sayWrong(c, asked)
    if (log.loss()?.knownHash === asked.value.knownHash) log.dismiss()
    return c.json({ loss: log.loss() })
  })

/** What is: the open work, the entries behind it, and whether the server is well. */
export const stateRoutes: Routes = (app, deps) => {
  const { shops, clock, log, backups, build, report } = deps
  const { ownWriter } = shops

  only(app, 'GET', '/api/state', (c) => {
    const state = ownWriter.state()
    const answer: Omit<StateAnswer, 'state'> = {
      head: state.head,
      tail: tailId({ position: state.head, hash: state.headHash }),
      ...standingOf(deps),
      build,
      foldVersion: FOLD_VERSION,
      clockSpan: clockSpan(settingsOf(state).timeZone, clock.now()),
    }
    const isPacked = c.req.query('as') === 'packed'
    return c.json({ state: isPacked ? packed(state) : state, ...answer })
  })

  only(app, 'GET', '/api/entries', async (c) => {
    const after = countOf(c, 'after', { min: 0, max: Number.MAX_SAFE_INTEGER, otherwise: 0 })
    if (typeof after !== 'number') return sayWrong(c, after)
    const limit = countOf(c, 'limit', { min: 1, max: LIMIT_MOST, otherwise: LIMIT })
    if (typeof limit !== 'number') return sayWrong(c, limit)
    try {
      const { head } = ownWriter.state()
      const page = await ownWriter.reader.page({ after, limit })
      const entries = page.filter((entry) => entry.position <= head)
      return c.json({ head, entries } satisfies EntriesAnswer)
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })

  only(app, 'GET', '/healthz', async (c) => {
    const { head } = ownWriter.state()
    const disk = log.disk()
    const about: Omit<Health, 'ok' | 'db'> = {
      build,
      foldVersion: FOLD_VERSION,
      head,
      decides: !ownWriter.isNewer(),
      clock: clockHealth(clock),
      log: logHealth(log.loss()),
      disk: disk ?? { code: 'ok' },
      backup: backups?.health() ?? { code: 'notSet' },
    }
    const say = sayFor(c, clock)
    try {
      // Asks the store itself: the state would answer from memory with the disk gone.
      await ownWriter.reader.page({ after: Math.max(0, head - 1), limit: 1 })
      if (disk === null || disk.code === 'low')
        return c.json(say.health({ ok: true, db: 'ok', ...about }))
      // What is pressed is kept; what was kept before is not all there.
      if (disk.code === 'damaged')
        return sayProblem(c, unreadable(null), say.health({ ok: false, db: 'failed', ...about }))
      return sayProblem(c, notStored(null), say.health({ ok: false, db: 'failed', ...about }))
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error), say.health({ ok: false, db: 'failed', ...about }))
    }
  })
}
