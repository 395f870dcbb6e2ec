import type { RecordsAnswer } from '../../machines/contract/records.ts'
import { wrongAt } from '../../machines/contract.ts'
import { recordSections, recordsCsv } from '../../machines/records/table.ts'
import { numberOfDay, startOfDay } from '../../machines/shop/calendar.ts'
import { dayIn } from '../../machines/shop/hours.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { jurisdictions } from '../../machines/trade/vocLimits.ts'
import { en, es } from '../../machines/words/records.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { unreadable } from '../problems.ts'
import { recordsFrom } from '../recordEntries.ts'

const DAYS_MOST = 366
const DAY = /^20\d\d-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/
const LANGUAGES = ['en', 'es'] as const
const FORMS = ['json', 'csv', 'pdf'] as const

/**
 * GET /api/records?from=&to=&jurisdiction=&as=json|csv|pdf&language=en|es: what the shop used and did from one day to another,
 * both included, on its own calendar; without days this month up to now. Paper and spreadsheet are in the
 * shop's language unless another is asked for.
 */
export const recordRoutes: Routes = (app, { shops, clock, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/records', async (c) => {
    const state = ownWriter.state()
    const now = clock.now()
    const settings = settingsOf(state)
    const { timeZone } = settings
    const today = dayIn(timeZone)(now)
    const { from = `${today.slice(0, 8)}01`, to = today, as = 'json' } = c.req.query()
    const wanted = c.req.query('jurisdiction') ?? jurisdictions[0]?.id
    const place = jurisdictions.find(({ id }) => id === wanted)
    if (!place)
      return sayWrong(
        c,
        wrongAt('jurisdiction', wanted, 'oneOf', { words: jurisdictions.map(({ id }) => id) }),
      )
    const form = FORMS.find((one) => one === as)
    if (form === undefined) return sayWrong(c, wrongAt('as', as, 'oneOf', { words: FORMS }))
    const language = c.req.query('language')
    if (language !== undefined && !LANGUAGES.some((one) => one === language))
      return sayWrong(c, wrongAt('language', language, 'oneOf', { words: LANGUAGES }))
    for (const [field, day] of Object.entries({ from, to }))
      if (!DAY.test(day))
        return sayWrong(c, wrongAt(field, day, 'oneOf', { words: ['2026-11-28'] }))
    const [first, last] = [numberOfDay(from), numberOfDay(to)]
    if (last < first || last - first >= DAYS_MOST)
      return sayWrong(c, wrongAt('to', to, 'whole', { min: 1, max: DAYS_MOST, unit: 'days' }))
    const fromMs = startOfDay(first, timeZone)
    const toMs = startOfDay(last + 1, timeZone)
    try {
      const asked = { from: fromMs, to: toMs, now, place }
      const records = await recordsFrom(state, asked, ownWriter.reader)
      if (form === 'json')
        return c.json({ from, to, fromMs, toMs, records } satisfies RecordsAnswer)
      const own = (language ?? settings.language) === 'es' ? es : en
      const say = { words: own, date: dayIn(timeZone) }
      const sections = recordSections(records, say)
      const name = `flashbell-records-${from}-${to}.${form}`
      c.header('Content-Disposition', `attachment; filename="${name}"`)
      if (form === 'csv') {
        c.header('Content-Type', 'text/csv; charset=utf-8; header=present')
        return c.body(recordsCsv(sections, say))
      }
      const { recordsPdf } = await import('../../labels/recordsPdf.ts')
      const called = own.places[place.id]
      const title = [own.title, settings.shopName ?? ''].filter((one) => one !== '').join(' - ')
      const page = {
        ...{ title, sections, foot: own.notCompliance },
        sub: `${own.fromTo(from, to)}. ${own.limitsFrom}: ${called?.name}, ${place.source}. ${called?.knowledge}`,
      }
      c.header('Content-Type', 'application/pdf')
      const paper = place.vocBasis === 'us' ? 'letter' : 'a4'
      return c.body(new Uint8Array(recordsPdf(page, paper)))
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })
}
