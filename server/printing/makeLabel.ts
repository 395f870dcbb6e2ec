import { shopTag } from '../../labels/code.ts'
import { cupLabelOf, labelStyleOf } from '../../labels/fromState.ts'
import {
  type LabelLayout,
  type LabelPaper,
  layoutCupLabel,
  layoutTag,
} from '../../labels/layout.ts'
import { legible } from '../../labels/legible.ts'
import { gunTag, panelTag, personBadge, shelfTag } from '../../labels/panelTag.ts'
import type { FlatPaper } from '../../labels/sheetCode.ts'
import { jobSheetOf, productOf } from '../../labels/sheetState.ts'
import { layoutCommandSheet, layoutJobSheet } from '../../labels/sheets.ts'
import { isLabelSize, isSheetSize, laidOn } from '../../labels/stock.ts'
import type { Tag } from '../../labels/tag.ts'
import { idLike } from '../../machines/lookup.ts'
import { routeState } from '../../machines/panel/where.ts'
import { presentPerson } from '../../machines/people/fold.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { contextOf, type State, thingOf } from '../../machines/state.ts'
import type { Clock } from '../clock.ts'
import type { Writer } from '../handle.ts'
import { understood } from '../reading.ts'
import { reload, withAir } from '../reload.ts'

/** What is printed of a shop: what a printer's ruler says is known to the queue alone. */
export const DRAWN_KINDS = ['cup', 'panel', 'job', 'person', 'gun', 'shelf', 'commands'] as const
export type DrawnKind = (typeof DRAWN_KINDS)[number]
export type DrawAsk = {
  readonly kind: DrawnKind
  readonly thing: string
  /** On a shelf's tag. */
  readonly lot?: string | undefined
}

/** Labels of what the log knows, also of what the state has evicted. Nothing is recorded. */
export type MakeLabel = {
  /**
   * @param paper bars are on flat sheets alone: a label's code is then a QR
   * @param nextAtMs of a cup: then the label that is printed next, at that time; without it the last one
   * @returns its pages; null where there is no such thing
   * @throws RangeError where the paper is too small for it
   */
  readonly pages: (
    ask: DrawAsk,
    paper: FlatPaper,
    nextAtMs?: number,
  ) => Promise<readonly LabelLayout[] | null>
  /** Something made of the state with that thing and the air of its clocks in it. */
  readonly of: <T>(kind: Reloaded, id: string, make: (state: State) => T) => Promise<T>
}
type Reloaded = 'cup' | 'panel' | 'job'

/** @throws LogError, by each call, where the log holds what nothing can be made of */
export function makeLabels(writer: Writer, clock: Pick<Clock, 'now'>): MakeLabel {
  const of = async <T>(kind: Reloaded, id: string, make: (state: State) => T) => {
    const refs = [{ kind, id }]
    const { reader } = writer
    const known = await reload(writer.state(), refs, reader)
    const state = await withAir(known, refs, clock.now(), reader)
    return understood(state.shop, `${kind} ${id}`, () => make(state))
  }
  const languageNow = () => labelStyleOf(writer.state()).language

  // Drawn outside of what the log is read in: a paper that is too small is no fault of the log.
  async function cup(id: string, paper: FlatPaper, nextAtMs?: number) {
    const said = await of('cup', id, (state) => {
      const label = cupLabelOf(state, id, nextAtMs)
      return label && { label, style: labelStyleOf(state) }
    })
    return said && [onLabel(paper, (on) => layoutCupLabel(said.label, on, said.style))]
  }

  async function job(id: string, paper: FlatPaper) {
    const said = await of('job', id, (state) => jobSheetOf(state, id))
    return said && onSheets(paper, (on) => layoutJobSheet(said, on, languageNow()))
  }

  return {
    of,
    async pages({ kind, thing, lot }, asked, nextAtMs) {
      const site = settingsOf(writer.state()).labels?.phoneAddress
      const paper: FlatPaper = site === undefined ? asked : { ...asked, site }
      switch (kind) {
        case 'cup':
          return await cup(thing, paper, nextAtMs)
        case 'job':
          return await job(thing, paper)
        case 'commands':
          return onSheets(paper, (on) => layoutCommandSheet(on, languageNow()))
        case 'panel': {
          const tag = await of('panel', thing, (state) => tagOfPanel(state, thing))
          return tag && [onLabel(paper, (on) => layoutTag(legibleTag(tag), on))]
        }
        default: {
          const tag = tagOf(writer.state(), kind, thing, lot ?? null)
          return tag && [onLabel(paper, (on) => layoutTag(legibleTag(tag), on))]
        }
      }
    },
  }
}

const legibleTag = (tag: Tag): Tag => ({
  ...tag,
  title: legible(tag.title),
  lines: tag.lines.map(legible),
})

const asLaid = (layout: LabelLayout, isTurned: boolean): LabelLayout =>
  isTurned ? { ...layout, isTurned: true } : layout

/** Bars are on flat sheets alone: a label's code is then a QR. */
function onLabel(
  { symbology, stock: given, ...paper }: FlatPaper,
  make: (paper: LabelPaper) => LabelLayout,
): LabelLayout {
  const { stock, isTurned } = laidOn(given, isLabelSize)
  const on = symbology === 'datamatrix' ? { ...paper, stock, symbology } : { ...paper, stock }
  return asLaid(make(on), isTurned)
}

function onSheets(
  { stock: given, ...paper }: FlatPaper,
  make: (paper: FlatPaper) => LabelLayout[],
): LabelLayout[] {
  const { stock, isTurned } = laidOn(given, isSheetSize)
  return make({ ...paper, stock }).map((layout) => asLaid(layout, isTurned))
}

function tagOfPanel(state: State, id: string): Tag | null {
  const thing = thingOf(state, { kind: 'panel', id })
  if (!thing || routeState(thing.value) === 'unknown') return null
  const { name, job } = thing.context
  const title = contextOf(state, 'job', job)?.title
  const tag = { shopTag: shopTag(state.shop), panel: id, name, job }
  return panelTag(title === undefined ? tag : { ...tag, title }, labelStyleOf(state).language)
}

/** Of things that are never evicted. An id may come from a code, in capitals. */
function tagOf(
  state: State,
  kind: 'person' | 'gun' | 'shelf',
  given: string,
  lot: string | null,
): Tag | null {
  const id = idLike(state, kind === 'shelf' ? 'sheet' : kind, given)
  if (id === null) return null
  const { language } = labelStyleOf(state)
  const of = { shopTag: shopTag(state.shop), id }
  if (kind === 'person') {
    const person = presentPerson(state, id)
    return person ? personBadge({ ...of, name: person.name }) : null
  }
  if (kind === 'gun') {
    const spec = contextOf(state, 'gun', id)?.spec
    return gunTag({ ...of, name: spec?.name ?? id, needleMm: spec?.needleMm ?? null }, language)
  }
  const name = productOf(state, id)
  return name === null ? null : shelfTag({ ...of, name, lot }, language)
}
