/**
 * VOC limits as data. Every limit travels with its source and with how well it is known, because a
 * number remembered must never look like a number read.
 */

export type VocLimit = {
  readonly id: string
  readonly category: string
  readonly gPerL: number
  /** Judged with its water counted in: the directive discounts water for all but cleaning. */
  readonly isWaterCounted?: true
}

export type Jurisdiction = {
  readonly id: string
  readonly name: string
  readonly source: string
  readonly knowledge: 'secondHand'
  /** Stands wherever a limit of this jurisdiction is shown. */
  readonly knowledgeSentence: string
  readonly basis: string
  /** How `voc` is asked for it. */
  readonly vocBasis: 'us' | 'eu'
  readonly limits: readonly VocLimit[]
}

const usFederal: Jurisdiction = {
  id: 'us-federal',
  name: 'United States, federal',
  source: '40 CFR 59 Subpart B, Table 1 (63 FR 48806, 1998)',
  knowledge: 'secondHand',
  knowledgeSentence:
    'These limits were not read in the rule itself. In pounds per gallon they are those of a state’s table of the same categories (6 NYCRR 228-1.4, Table A): check them against the official table before relying on them. States and districts may be stricter.',
  vocBasis: 'us',
  basis: 'g VOC per liter ready to spray, less water and exempt solvents',
  limits: [
    { id: 'wash-primer', category: 'Pretreatment wash primers', gPerL: 780 },
    { id: 'primer', category: 'Primers and primer surfacers', gPerL: 580 },
    { id: 'sealer', category: 'Primer sealers', gPerL: 550 },
    { id: 'topcoat', category: 'Single and two-stage topcoats', gPerL: 600 },
    { id: 'topcoat-stages', category: 'Topcoats of more than two stages', gPerL: 630 },
    { id: 'multi-coloured', category: 'Multi-coloured topcoats', gPerL: 680 },
    { id: 'specialty', category: 'Specialty coatings', gPerL: 840 },
  ],
}

const europe: Jurisdiction = {
  id: 'eu',
  name: 'European Union',
  source: 'Directive 2004/42/EC, Annex II B',
  knowledge: 'secondHand',
  knowledgeSentence:
    'These limits were read in a government’s guidance on the directive, not in the directive itself: check them there.',
  vocBasis: 'eu',
  basis:
    'g VOC per liter ready to use, less water except for preparing and cleaning; the directive knows no exempt solvents, and does not count what reacts into the film',
  limits: [
    { id: 'preparatory', category: 'Preparatory', gPerL: 850, isWaterCounted: true },
    { id: 'pre-cleaner', category: 'Pre-cleaner', gPerL: 200, isWaterCounted: true },
    { id: 'filler', category: 'Bodyfiller and stopper', gPerL: 250 },
    { id: 'primer', category: 'Primer: surfacer, filler and general metal primer', gPerL: 540 },
    { id: 'wash-primer', category: 'Wash primer', gPerL: 780 },
    { id: 'topcoat', category: 'Topcoat', gPerL: 420 },
    { id: 'specialty', category: 'Special finishes', gPerL: 840 },
  ],
}

export const jurisdictions: readonly Jurisdiction[] = [usFederal, europe]

export type VocJudgement = {
  readonly limit: VocLimit
  readonly gPerL: number
  readonly isWithin: boolean
  readonly source: string
  readonly knowledge: Jurisdiction['knowledge']
  readonly knowledgeSentence: string
}

/**
 * Judges a mix by one jurisdiction. A mix used in several categories takes the strictest limit of
 * them (40 CFR 59.102(b)).
 *
 * @param categories ids of that jurisdiction's limits; others are passed over
 * @param voc what `voc` answered by the jurisdiction's `vocBasis`; for `vocStages` its figure as both
 * @returns null when none of the categories is known there: then nothing is judged
 */
export function judgeVoc(
  jurisdiction: Jurisdiction,
  categories: readonly string[],
  voc: { readonly regulatoryGPerL: number; readonly actualGPerL: number },
): VocJudgement | null {
  const [limit] = jurisdiction.limits
    .filter(({ id }) => categories.includes(id))
    .sort((a, b) => a.gPerL - b.gPerL)
  if (!limit) return null
  const gPerL = limit.isWaterCounted ? voc.actualGPerL : voc.regulatoryGPerL
  const { source, knowledge, knowledgeSentence } = jurisdiction
  return { limit, gPerL, isWithin: gPerL <= limit.gPerL, source, knowledge, knowledgeSentence }
}
