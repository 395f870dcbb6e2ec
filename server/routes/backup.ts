import * as v from 'valibot'
import { check, fields } from '../../machines/accept.ts'
import { scheduleSchema } from '../../machines/contract/backup.ts'
import { jsonOf, only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { problem } from '../problems.ts'

const setSchema = fields({ schedule: v.nullable(scheduleSchema) })

/**
 * GET /api/backup: the schedule, the last success and failure, and what is running. POST
 * /api/backup/set {schedule} changes it; POST /api/backup/now begins one.
 */
export const backupRoutes: Routes = (app, { backups }) => {
  if (!backups) return

  only(app, 'GET', '/api/backup', (c) => c.json(backups.answer()))

  only(app, 'POST', '/api/backup/set', async (c) => {
    const read = await jsonOf(c.req.raw)
    if ('error' in read) return sayWrong(c, read)
    const asked = check(setSchema, read.input)
    if (!asked.ok) return sayWrong(c, asked)
    const trouble = await backups.set(asked.value.schedule)
    if (trouble) return sayProblem(c, problem('noBackup', { trouble }))
    return c.json(backups.answer())
  })

  only(app, 'POST', '/api/backup/now', (c) => {
    if (backups.begin()) return c.json(backups.answer())
    return sayProblem(c, problem('noSchedule', {}))
  })
}
