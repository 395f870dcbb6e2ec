import { shopTag } from '../../labels/code.ts'
import { cupLabelOf, labelStyleOf } from '../../labels/fromState.ts'
import { type LabelLayout, layoutCupLabel, layoutPanelTag } from '../../labels/layout.ts'
import type { LabelPaper } from '../../labels/page.ts'
import { routeState } from '../../machines/panel/where.ts'
import { contextOf, type State, thingOf } from '../../machines/state.ts'
import type { Clock } from '../clock.ts'
import type { Writer } from '../handle.ts'
import { understood } from '../reading.ts'
import { reload, withAir } from '../reload.ts'

/** Labels of what the log knows, also of what the state has evicted. Nothing is recorded. */
export type MakeLabel = {
  /** @param nextAtMs then the label that is printed next, at that time; without it the last one */
  readonly cup: (id: string, paper: LabelPaper, nextAtMs?: number) => Promise<LabelLayout | null>
  readonly panel: (id: string, paper: LabelPaper) => Promise<LabelLayout | null>
  /** Something made of the state with that thing and the air of its clocks in it. */
  readonly of: <T>(kind: 'cup' | 'panel', id: string, make: (state: State) => T) => Promise<T>
}

/** @throws LogError, by each call, where the log holds what nothing can be made of */
export function makeLabels(writer: Writer, clock: Pick<Clock, 'now'>): MakeLabel {
  const of = async <T>(kind: 'cup' | 'panel', id: string, make: (state: State) => T) => {
    const refs = [{ kind, id }]
    const { reader } = writer
    const known = await reload(writer.state(), refs, reader)
    const state = await withAir(known, refs, clock.now(), reader)
    return understood(state.shop, `${kind} ${id}`, () => make(state))
  }
  return {
    of,
    // Drawn outside of what the log is read in: a paper that is too small is no fault of the log.
    async cup(id, paper, nextAtMs) {
      const said = await of('cup', id, (state) => {
        const label = cupLabelOf(state, id, nextAtMs)
        return label && { label, style: labelStyleOf(state) }
      })
      return said && layoutCupLabel(said.label, paper, said.style)
    },
    async panel(id, paper) {
      const said = await of('panel', id, (state) => {
        const thing = thingOf(state, { kind: 'panel', id })
        if (!thing || routeState(thing.value) === 'unknown') return null
        const { name, job } = thing.context
        const title = contextOf(state, 'job', job)?.title
        const tag = { shopTag: shopTag(state.shop), panel: id, name, job }
        const { language } = labelStyleOf(state)
        return { tag: title === undefined ? tag : { ...tag, title }, language }
      })
      return said && layoutPanelTag(said.tag, paper, said.language)
    },
  }
}
