import {
  encodeCommandCode,
  isPrintedCommand,
  PRINTED_COMMANDS,
  type ReadCup,
  readCode,
  shopTag,
} from '../../labels/code.ts'
import { layoutCodeTile } from '../../labels/codeTile.ts'
import { cupLabelOf } from '../../labels/fromState.ts'
import { type Dpi, STOCKS } from '../../labels/layout.ts'
import { type LabelProblem, type Said, wrongAt } from '../../machines/contract.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { findByPrefix } from '../../machines/lookup.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { labels } from '../labelThread.ts'
import { makeLabels } from '../printing/makeLabel.ts'
import { problem } from '../problems.ts'
import { wordsFor } from '../say.ts'

const DPIS: readonly Dpi[] = [203, 300]
const NAME = /^([0-9A-Z]{8})\.(svg|png|pdf)$/
/** Asks for the label that is printed next, before it is logged: it says COPY n from the second on. */
const NEXT_COPY = 'next'
const SVG = { 'Content-Type': 'image/svg+xml' }
/** Tags and codes are drawn for a screen and an office printer: any resolution does. */
const DRAWN_DPI: Dpi = 300

/** Labels of cups, and what a label says. Both look only: nothing is recorded. */
export const labelRoutes: Routes = (app, { shops, clock }) => {
  const { ownWriter } = shops
  const make = makeLabels(ownWriter, clock)

  only(app, 'GET', '/api/labels/cup/:name', async (c) => {
    const [, id, form] = NAME.exec(c.req.param('name') ?? '') ?? []
    const dpi = DPIS.find((one) => String(one) === (c.req.query('dpi') ?? '203'))
    if (!id || !form) {
      const forms = ['CUP.svg', 'CUP.png', 'CUP.pdf']
      return sayWrong(c, wrongAt('name', c.req.param('name'), 'fileName', { forms }))
    }
    if (!dpi) {
      const words = DPIS.map(String)
      return sayWrong(c, wrongAt('dpi', c.req.query('dpi'), 'oneOf', { words }))
    }
    const copy = c.req.query('copy')
    if (copy !== undefined && copy !== NEXT_COPY) {
      return sayWrong(c, wrongAt('copy', copy, 'oneOf', { words: [NEXT_COPY] }))
    }
    const paper = { stock: STOCKS['57x32'], dpi }
    const layout = await make.cup(id, paper, copy === NEXT_COPY ? clock.now() : undefined)
    if (!layout) return sayProblem(c, problem('notFound', { what: 'cup', name: id }))
    if (form === 'pdf') {
      return c.body(new Uint8Array(await labels.pdf([layout])), 200, {
        'Content-Type': 'application/pdf',
      })
    }
    return form === 'svg'
      ? c.body(await labels.svg(layout), 200, SVG)
      : c.body(new Uint8Array(await labels.png(layout)), 200, { 'Content-Type': 'image/png' })
  })

  only(app, 'GET', '/api/labels/panel/:name', async (c) => {
    const [, id = '', form] = NAME.exec(c.req.param('name') ?? '') ?? []
    if (form !== 'svg') {
      const forms = ['PANEL.svg']
      return sayWrong(c, wrongAt('name', c.req.param('name'), 'fileName', { forms }))
    }
    const layout = await make.panel(id, { stock: STOCKS['57x32'], dpi: DRAWN_DPI })
    if (!layout) return sayProblem(c, problem('notFound', { what: 'panel', name: id }))
    return c.body(await labels.svg(layout), 200, SVG)
  })

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
    const read = readCode(text, { nowMs: now, shopTag: shopTag(ownWriter.state().shop) })
    if (read.kind === 'problem') {
      const { code, names, says = null } = read
      const message = wordsFor(c).labels[code](...names)
      const params = { given: text, names }
      const error: Said<LabelProblem> = { code, field: 'text', params, message }
      return c.json({ error, errors: [error], code, says }, 400)
    }
    if (read.kind === 'panel') return c.json(foundAs({ kind: 'panel', id: read.panel }))
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

/** Clients that know an earlier build read `is`. */
const foundAs = <F extends { readonly kind: string }>(found: F) => ({ ...found, is: found.kind })
