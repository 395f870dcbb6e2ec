import { check, id8, utcMs } from '../../machines/accept.ts'
import { type TraceAnswer, wrongAt } from '../../machines/contract.ts'
import { byOccurrence } from '../../machines/envelope.ts'
import { SPRAYED } from '../../machines/sheet/schema.ts'
import { DEFECTS } from '../../machines/trace/causes.ts'
import { deviationsIn } from '../../machines/trace/deviations.ts'
import { foundLater } from '../../machines/trace/foundLater.ts'
import { noticesOf } from '../../machines/trace/notices.ts'
import type { Asked } from '../../machines/trace/rank.ts'
import { causesIn, type Traced, traced } from '../../machines/trace/trace.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { ownEntries } from '../jobEntries.ts'
import { problem, unreadable } from '../problems.ts'
import { understood } from '../reading.ts'
import { traceEntries } from '../traceEntries.ts'

/** What was asked, as it came. */
type Query = { readonly [K in 'defect' | 'panel' | 'stage' | 'noticedAt']?: string | undefined }

const isOneOf = <T extends string>(words: readonly T[], given: string): given is T =>
  (words as readonly string[]).includes(given)

/** What was asked about, or the field that is wrong; null where no defect was. */
function askedIn({ defect, panel, stage, noticedAt }: Query, { panels }: Traced) {
  if (defect === undefined) {
    const alone = Object.entries({ panel, stage, noticedAt }).find(
      ([, given]) => given !== undefined,
    )
    return alone ? wrongAt('defect', undefined, 'oneOf', { words: DEFECTS }) : null
  }
  if (!isOneOf(DEFECTS, defect)) return wrongAt('defect', defect, 'oneOf', { words: DEFECTS })
  const known = panels.map(({ id }) => id)
  const asked = panel === undefined ? known : panel.split(',')
  const wrong = asked.find((id) => !known.includes(id))
  if (wrong !== undefined) return wrongAt('panel', wrong, 'oneOf', { words: known })
  if (stage !== undefined && !isOneOf(SPRAYED, stage))
    return wrongAt('stage', stage, 'oneOf', { words: SPRAYED })
  const at = noticedAt === undefined ? undefined : check(utcMs, Number(noticedAt), 'noticedAt')
  if (at && !at.ok) return at
  const value: Asked = { defect, panels: asked, stage, noticedAt: at?.value }
  return { value }
}

/**
 * GET /api/jobs/:id/trace?defect=&panel=: the entries of a job with the air and the sheets that it is told
 * by, its deviations, and what the record says of the causes of a defect. `panel` are the panels that have
 * it, with commas between them; without it all have it. `stage` is the layer that it is in, `noticedAt`
 * when it was seen, UTC ms: what happened later did not cause it.
 */
export const traceRoutes: Routes = (app, { shops, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/jobs/:id/trace', async (c) => {
    const id = check(id8, c.req.param('id'), 'id')
    if (!id.ok) return sayWrong(c, id)
    const job = id.value
    const { defect, panel, stage, noticedAt } = c.req.query()
    try {
      const { head, shop } = ownWriter.state()
      const own = await ownEntries(job, head, ownWriter.reader)
      if (own.length === 0) return sayProblem(c, problem('notFound', { what: 'job', name: job }))
      const entries = (await traceEntries(own, head, ownWriter.reader)).sort(byOccurrence)
      const made = understood(shop, `the entries of job ${job}`, () => {
        const all = traced(entries)
        const asked = askedIn({ defect, panel, stage, noticedAt }, all)
        const verdict = asked && 'value' in asked ? causesIn(all, asked.value) : null
        const deviations = [...deviationsIn(entries), ...foundLater(all)].sort(
          (a, b) => a.at - b.at,
        )
        return { asked, verdict, deviations, notices: noticesOf(all, entries) }
      })
      if (made.asked && 'error' in made.asked) return sayWrong(c, made.asked)
      const { verdict, deviations, notices } = made
      const told = { job, head, entries, deviations, notices, verdict }
      return c.json(told satisfies TraceAnswer)
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })
}
