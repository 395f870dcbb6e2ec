import type { Draft } from '../envelope.ts'
import type { State } from '../state.ts'
import { causesOf, LAYERS, type Layers } from './causes.ts'
import { ofCoat } from './coatSignals.ts'
import { ofPanel } from './panelSignals.ts'
import { type Asked, rank, type Verdict } from './rank.ts'
import { type PanelTold, panelsTold } from './record.ts'
import { retold } from './retold.ts'
import type { Finding } from './signals.ts'

/** A job as it is traced: its panels' ways, and every figure that they say. */
export type Traced = {
  readonly state: State
  readonly panels: readonly PanelTold[]
  /** Made when they are first asked for: a timeline asks for none. */
  readonly findings: readonly Finding[]
}

/** What the record says of a defect. */
export type Told = Verdict & { readonly missingLayers: readonly Layers[] }

/**
 * A job from its entries.
 * @param entries those of the job with its cups and guns, the air of its zones and its sheets, in any
 * order; what was voided does not count
 */
export function traced(entries: readonly Draft[]): Traced {
  const state = retold(entries)
  const panels = panelsTold(state)
  let found: readonly Finding[] | null = null
  return {
    state,
    panels,
    get findings() {
      found ??= panels.flatMap((panel) => [
        ...panel.coats.flatMap((coat) => ofCoat(state, panel, coat)),
        ...ofPanel(state, panel, panels),
      ])
      return found
    },
  }
}

/** Layers that a defect is caused in and that none of its panels has: no clear, no undercoat. */
function missingLayers(panels: readonly PanelTold[], asked: Asked): Layers[] {
  const own = panels.filter(({ id }) => asked.panels.includes(id))
  const stages = own.flatMap(({ coats }) => coats.map(({ stage }) => stage as string | null))
  const wanted = new Set(causesOf(asked.defect).map(({ layers }) => layers))
  return [...wanted].filter((layers) => {
    const of: readonly string[] | null = LAYERS[layers]
    return of !== null && !stages.some((stage) => stage !== null && of.includes(stage))
  })
}

/**
 * The causes of a defect of a job, and the layers of it that were never sprayed.
 * @param priors a shop's own, from its reviews; without them the usual ones
 */
export function causesIn(
  { panels, findings }: Traced,
  asked: Asked,
  priors: Readonly<Record<string, number>> = {},
): Told {
  const sprayed = panels.filter(({ coats }) => coats.length > 0).map(({ id }) => id)
  return { ...rank(asked, findings, sprayed, priors), missingLayers: missingLayers(panels, asked) }
}
