import type { RecordsAnswer } from '../../machines/contract/records.ts'
import { wrongAt } from '../../machines/contract.ts'
import { type RecordWords, recordSections, recordsCsv } from '../../machines/records/table.ts'
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
const FORMS = ['json', 'csv', 'pdf'] as const

/** Codes and stages as they are in the log: a kiosk says them in its own words. */
const PLAIN = {
  stage: (one: string) => one,
  code: (one: string) => one,
  type: (one: string) => one,
}

/**
 * GET /api/records?from=&to=&jurisdiction=&as=json|csv|pdf: what the shop used and did from one day to another,
 * both included, on its own calendar; without days this month up to now.
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
      const own = settings.language === 'es' ? es : en
      const words: RecordWords = { ...own, ...PLAIN }
      const say = { words, date: dayIn(timeZone) }
      const sections = recordSections(records, say)
      const name = `flashbell-records-${from}-${to}.${form}`
      c.header('Content-Disposition', `attachment; filename="${name}"`)
      if (form === 'csv') {
        c.header('Content-Type', 'text/csv; charset=utf-8; header=present')
        return c.body(recordsCsv(sections, say))
      }
      const { recordsPdf } = await import('../../labels/recordsPdf.ts')
      const title = [own.title, settings.shopName ?? ''].filter((one) => one !== '').join(' - ')
      const page = {
        ...{ title, sections, foot: own.notCompliance },
        sub: `${own.fromTo(from, to)}. ${own.limitsFrom}: ${place.name}, ${place.source}. ${place.knowledgeSentence}`,
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
