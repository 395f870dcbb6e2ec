import type { OpenCoat, PanelContext } from '../panel/context.ts'
import { coatUm, SHARE } from '../panel/film.ts'
import { sheetAt } from '../sheet/fold.ts'
import { contextOf, type State } from '../state.ts'
import { quantity, TRANSFER } from '../trade/film.ts'
import { leftMl } from './contents.ts'
import type { CupContext } from './machine.ts'

/** What is left in a cup: what was poured in and out, less an estimate of what was sprayed from it since. */

/** Edges or a spot of a panel's area. Common practice, no source. */
const FACE = { whole: 1, edges: 0.25, spot: 0.25 } as const

export type Left = {
  /** Never below 0: an estimate that says so says that the cup should be empty. */
  readonly ml: number
  /** Something was sprayed since it was poured or measured. */
  readonly isEstimate: boolean
  /** Of a coat nobody knows how much it took: there may be less. */
  readonly isAtMost: boolean
}

type Sprayed = {
  readonly coat: PanelContext['coats'][number] | OpenCoat
  readonly panel: PanelContext
}

/** The coats that were sprayed from a cup, the running ones too, since an instant. */
function sprayedFrom(state: State, id: string, { usedOn }: CupContext, since: number): Sprayed[] {
  return usedOn.flatMap((name) => {
    const panel = contextOf(state, 'panel', name)
    if (!panel) return []
    const all = [...panel.coats, ...(panel.open ? [panel.open] : [])]
    return all
      .filter(({ cups, startedAt }) => cups.includes(id) && startedAt > since)
      .map((coat) => ({ coat, panel }))
  })
}

/**
 * What a coat of a product takes out of its cups, mL: area x dry film / (solids x transfer), by what its
 * sheet plans or a comb showed. An estimate, +-30 %.
 * @returns null where area, film or solids are not known
 */
export function coatMl(state: State, { coat, panel }: Sprayed, sheetId: string): number | null {
  // One that was broken off is on as a part of the coat that continues it.
  if ('part' in coat && coat.part) return 0
  const sheet = sheetAt(state, sheetId, coat.startedAt)?.sheet
  const planned = sheet?.dryUmPerCoat === undefined ? null : sheet.dryUmPerCoat * SHARE[coat.kind]
  const dryUmPerCoat = 'entry' in coat ? (coatUm(state, panel, coat) ?? planned) : planned
  const face = FACE[panel.route[coat.step]?.face ?? 'whole']
  const answer = quantity.answer({
    areaM2: panel.areaM2 === null ? null : panel.areaM2 * face,
    coats: 1,
    dryUmPerCoat,
    solids: sheet?.solids,
    transfer: TRANSFER,
  })
  return answer.ok ? answer.value.volumeMl : null
}

/** @returns what is left in a cup that is known, in mL */
export function leftIn(state: State, id: string, cup: CupContext): Left {
  const since = cup.measuredAt ?? Number.NEGATIVE_INFINITY
  const sprayed = sprayedFrom(state, id, cup, since)
  const amounts = sprayed.map((one) => {
    const ml = coatMl(state, one, cup.sheet)
    // A coat that was continued from another cup took some of each.
    return ml === null ? null : ml / one.coat.cups.length
  })
  const goneMl = amounts.reduce<number>((sum, ml) => sum + (ml ?? 0), 0)
  // Panels that are held no more took something as well.
  const isGone = cup.usedOn.some((name) => !contextOf(state, 'panel', name))
  const isSince = (cup.lastUsedAt ?? 0) > since
  return {
    ml: Math.max(0, Math.round(leftMl(cup) - goneMl)),
    isEstimate: goneMl > 0,
    isAtMost: amounts.includes(null) || (isGone && isSince),
  }
}
