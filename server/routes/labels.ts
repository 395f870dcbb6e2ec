import {
  bareCode,
  encodeCommandCode,
  isPrintedCommand,
  PRINTED_COMMANDS,
  type ReadCup,
  readCode,
  readCommandCode,
  shopTag,
} from '../../labels/code.ts'
import { layoutCodeTile } from '../../labels/codeTile.ts'
import { cupLabelOf } from '../../labels/fromState.ts'
import type { Dpi, LabelLayout } from '../../labels/layout.ts'
import { type LabelProblem, type Said, wrongAt } from '../../machines/contract.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { findByPrefix, idLike } from '../../machines/lookup.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { labels } from '../labelThread.ts'
import { DRAWN_KINDS, type DrawnKind, makeLabels } from '../printing/makeLabel.ts'
import { problem } from '../problems.ts'
import { wordsFor } from '../say.ts'
import { drawAskIn, papersOf } from './labelAsk.ts'

const SVG = { 'Content-Type': 'image/svg+xml' }
const TYPES = {
  svg: SVG,
  png: { 'Content-Type': 'image/png' },
  pdf: { 'Content-Type': 'application/pdf' },
}
/** What a 404 calls it. */
const WHAT = {
  cup: 'cup',
  panel: 'panel',
  job: 'job',
  person: 'person',
  gun: 'gun',
  shelf: 'sheet',
  commands: 'path',
} as const satisfies Record<DrawnKind, string>
/** Codes are drawn for a screen and an office printer: any resolution does. */
const DRAWN_DPI: Dpi = 300

/** Labels, tags and sheets, and what a label says. Both look only: nothing is recorded. */
export const labelRoutes: Routes = (app, { shops, clock }) => {
  const { ownWriter } = shops
  const make = makeLabels(ownWriter, clock)

  for (const kind of DRAWN_KINDS) {
    only(app, 'GET', `/api/labels/${kind}/:name`, async (c) => {
      const asked = drawAskIn(kind, c.req.param('name') ?? '', c.req.query())
      if ('error' in asked) return sayWrong(c, asked)
      const { ask, paper, form, page } = asked
      let pages: readonly LabelLayout[] | null
      try {
        pages = await make.pages(ask, paper, asked.isNext ? clock.now() : undefined)
      } catch (error) {
        if (!(error instanceof RangeError)) throw error
        return sayWrong(
          c,
          wrongAt('paper', c.req.query('paper'), 'oneOf', { words: papersOf(kind) }),
        )
      }
      if (!pages) return sayProblem(c, problem('notFound', { what: WHAT[kind], name: ask.thing }))
      const layout = pages[page - 1]
      if (!layout) {
        return sayWrong(
          c,
          wrongAt('page', c.req.query('page'), 'whole', { min: 1, max: pages.length }),
        )
      }
      c.header('X-Pages', String(pages.length))
      const body = form === 'pdf' ? await labels.pdf(pages) : await labels[form](layout)
      return typeof body === 'string'
        ? c.body(body, 200, TYPES[form])
        : c.body(new Uint8Array(body), 200, TYPES[form])
    })
  }

  only(app, 'GET', '/api/labels/command/:name', async (c) => {
    const given = c.req.param('name') ?? ''
    const name = given.replace(/\.svg$/, '')
    if (name === given || !isPrintedCommand(name)) {
      const forms = PRINTED_COMMANDS.map((one) => `${one}.svg`)
      return sayWrong(c, wrongAt('name', given, 'fileName', { forms }))
    }
    const tile = layoutCodeTile(encodeCommandCode(name), DRAWN_DPI)
    return c.body(await labels.svg(tile), 200, SVG)
  })

  only(app, 'GET', '/api/scan/:text', async (c) => {
    const now = clock.now()
    const text = c.req.param('text') ?? ''
    const code = readCommandCode(text)
    if (code?.kind === 'command') return c.json({ kind: 'command', command: code.command })
    const read = readCode(text, { nowMs: now, shopTag: shopTag(ownWriter.state().shop) })
    if (read.kind === 'problem') {
      const { code, names, says = null } = read
      const message = wordsFor(c).labels[code](...names)
      const params = { given: text, names }
      const error: Said<LabelProblem> = { code, field: 'text', params, message }
      return c.json({ error, errors: [error], code, says }, 400)
    }
    if (read.kind === 'panel') return c.json(foundAs({ kind: 'panel', id: read.panel }))
    if (read.kind === 'job') return c.json(foundAs({ kind: 'job', id: read.id }))
    if (read.kind !== 'cup' && read.kind !== 'typed') {
      const kind = read.kind === 'product' ? 'sheet' : read.kind
      const id = idLike(ownWriter.state(), kind, read.id)
      // A digest stands nowhere on the tag: what was given is the code.
      const name = read.isDigest ? bareCode(text.trim()) : read.id
      if (id === null) return sayProblem(c, problem('notFound', { what: kind, name }))
      return c.json({ ...foundAs({ kind, id }), lot: read.lot })
    }
    const found =
      read.kind === 'cup'
        ? { kind: 'cup' as const, id: read.cup }
        : findByPrefix(ownWriter.state(), read.prefix)
    if (found.kind === 'many') {
      return sayWrong(c, wrongAt('text', text, 'longerId', { ids: found.ids }))
    }
    if (found.kind === 'panel' || found.kind === 'job') return c.json(foundAs(found))
    const id = found.kind === 'cup' ? found.id : text.trim().toUpperCase()
    const label = read.kind === 'cup' ? read : null
    const answer = await make.of('cup', id, (state) => {
      const cup = cupLabelOf(state, id) ? contextOf(state, 'cup', id) : undefined
      return cup && cupAnswer(state, id, cup, label, now)
    })
    if (answer) return c.json(answer)
    return sayProblem(c, problem('notFound', { what: 'cup', name: id }), { label })
  })
}

/** A cup according to the log; where its label says an earlier end, the earlier one binds. */
function cupAnswer(state: State, id: string, cup: CupContext, label: ReadCup | null, now: number) {
  const byLog = cupEndsAt(state, cup)
  const ends = [byLog, label?.useByMs ?? null].filter((end) => end !== null)
  const endsAt = ends.length === 0 ? null : Math.min(...ends)
  const leftMs = endsAt === null ? null : endsAt - now
  return { ...foundAs({ kind: 'cup', id }), cup, endsAt, leftMs, label }
}

/**
 * What a phone's own camera opens where the shop's labels begin with the kiosk's address: that label on Scan.
 * A code has capitals alone, so the way is in capitals too.
 */
export const openedByPhone: Routes = (app) =>
  ['/S/:text', '/s/:text'].forEach((path) => {
    only(app, 'GET', path, (c) =>
      c.redirect(`/#/scan/${encodeURIComponent(c.req.param('text') ?? '')}`),
    )
  })

/** Clients that know an earlier build read `is`. */
const foundAs = <F extends { readonly kind: string }>(found: F) => ({ ...found, is: found.kind })
