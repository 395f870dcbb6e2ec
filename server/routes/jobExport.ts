import { check, id8 } from '../../machines/accept.ts'
import { EXPORT_FORMS, type ExportForm } from '../../machines/contract/jobExport.ts'
import { wrongAt } from '../../machines/contract.ts'
import { settingsAt } from '../../machines/shop/settings.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { cloudEvents } from '../jobExport/cloudEvents.ts'
import { jobExport } from '../jobExport/gather.ts'
import { exportPage, type PageParts } from '../jobExport/html.ts'
import { problem, unreadable } from '../problems.ts'

const TYPES: Readonly<Record<ExportForm, string>> = {
  html: 'text/html; charset=utf-8',
  jsonl: 'application/x-ndjson',
}

/**
 * GET /api/jobs/:id/export?as=html|jsonl: a job to take out of the shop, as one page that checks itself
 * without a network, or as CloudEvents 1.0, one a line.
 * @param parts gives the program of the page, when one is asked for
 */
export const jobExportRoutes =
  (parts: () => PageParts): Routes =>
  (app, { shops, clock, report }) => {
    const { ownWriter } = shops

    only(app, 'GET', '/api/jobs/:id/export', async (c) => {
      const id = check(id8, c.req.param('id'), 'id')
      if (!id.ok) return sayWrong(c, id)
      const as = c.req.query('as') ?? 'html'
      const form = EXPORT_FORMS.find((one) => one === as)
      if (form === undefined)
        return sayWrong(c, wrongAt('as', as, 'oneOf', { words: EXPORT_FORMS }))
      const job = id.value
      try {
        const state = ownWriter.state()
        const now = clock.now()
        const [last] = await ownWriter.reader.raw({ after: state.head - 1, limit: 1 })
        const around = { shop: state.shop, head: state.head, hash: last?.hash ?? '', now }
        const settings = settingsAt(state, now)
        const made = await jobExport(job, { ...around, settings }, ownWriter.reader)
        if (made === null) return sayProblem(c, problem('notFound', { what: 'job', name: job }))
        c.header('Content-Type', TYPES[form])
        c.header('Content-Disposition', `attachment; filename="flashbell-${job}.${form}"`)
        return c.body(form === 'html' ? exportPage(made, parts()) : [...cloudEvents(made)].join(''))
      } catch (error) {
        report(error)
        return sayProblem(c, unreadable(error))
      }
    })
  }
