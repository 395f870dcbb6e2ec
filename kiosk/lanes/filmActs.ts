import { lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { dryUmOn } from '../../machines/panel/film.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import type { State } from '../../machines/state.ts'
import { actsIn } from '../words/acts.ts'
import type { Words } from '../words/en.ts'
import type { Act } from './actTypes.ts'
import type { Lane } from './lanes.ts'

/** How thick the film is, read with one touch: by the notch of a comb, or by what a gauge shows. */

/** The notches of a wet film comb that lie about what the sheet plans, µm. */
const NOTCH_UM = 25
const NOTCHES = [-2, -1, 0, 1, 2, 3] as const
/** What a gauge shows is told to the next ten: it reads no closer on paint. Common practice, no source. */
const GAUGE_UM = 10
const GAUGE_ABOUT = [-40, -20, -10, 0, 10, 20, 40, 80] as const
/** What a panel shows that nobody painted here, from thin to repainted, µm. Common practice, no source. */
const GAUGE_BARE = [80, 100, 120, 140, 160, 200, 250, 300] as const

export function filmActs(state: State, panel: PanelContext, lane: Lane, words: Words): Act[] {
  const read = (method: 'wetComb' | 'gauge', um: number): Act => ({
    key: `${method === 'gauge' ? 'gauge' : 'film'}-${um}`,
    label: method === 'gauge' ? actsIn(words).gauge(um) : actsIn(words).wetFilm(um),
    type: 'ReadFilm',
    data: { panel: lane.panel, um, method },
    group: 'inspect',
  })
  return isDry(panel, lane)
    ? gaugeUm(state, panel).map((um) => read('gauge', um))
    : combUm(state, panel).map((um) => read('wetComb', um))
}

/** A gauge lies on bare or old paint, or on what was cured: never on a wet coat. */
const isDry = (panel: PanelContext, { waits }: Lane): boolean =>
  !lastCoat(panel) || waits.for === 'pass' || waits.for === 'hand'

/** What the sheet plans of the last coat, as the notches about it, µm. */
function combUm(state: State, panel: PanelContext): number[] {
  const last = lastCoat(panel)
  const sheet = sheetAt(state, last?.opens?.sheet, last?.finishedAt ?? 0)?.sheet
  if (!sheet?.dryUmPerCoat || !sheet.solids) return []
  const planned = Math.round(sheet.dryUmPerCoat / sheet.solids / NOTCH_UM)
  return NOTCHES.map((off) => (planned + off) * NOTCH_UM).filter((um) => um > 0)
}

/** What is on the panel by its sheets and the last gauge, and what lies about it, µm. */
function gaugeUm(state: State, panel: PanelContext): readonly number[] {
  const um = dryUmOn(state, panel)
  if (um === null) return GAUGE_BARE
  const planned = Math.round(um / GAUGE_UM)
  return GAUGE_ABOUT.map((off) => planned * GAUGE_UM + off).filter((one) => one > 0)
}
