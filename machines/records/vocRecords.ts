import type { Draft } from '../envelope.ts'
import type { Stage } from '../sheet/schema.ts'
import { vocStages } from '../trade/voc.ts'
import { type Jurisdiction, judgeVoc } from '../trade/vocLimits.ts'
import { categoryOf, type Portion, type SheetThen, type VocFigure, vocOf } from './material.ts'

/** VOC of what was mixed, against the limits of one jurisdiction. */

/** Why a cup is judged by no limit of its own. */
export type NotJudged = 'sheetUnknown' | 'figuresMissing' | 'categoryUnknown' | 'inAverage'

export type CupVoc = {
  readonly cup: string
  readonly at: number
  readonly job: string | null
  /** Other jobs that it was mixed for as well. */
  readonly alsoFor?: readonly string[]
  readonly name: string
  readonly ml: number
  readonly category: string | null
  readonly gPerL: number | null
  readonly limitGPerL: number | null
  readonly isWithin: boolean | null
  readonly why: NotJudged | null
}

/** A topcoat in stages, by job: the highest of each stage, the clear twice. */
export type StagesVoc = {
  readonly job: string
  readonly mids: number
  readonly gPerL: number | null
  readonly limitGPerL: number
  readonly isWithin: boolean | null
  /** Why there is no average: a stage that was not mixed here, or cups whose figures are missing. */
  readonly why: 'stageMissing' | 'figuresMissing' | null
}

export type MixedCup = {
  readonly entry: Draft
  readonly sheet: SheetThen | null
  readonly portions: readonly Portion[]
}

const TOPCOAT = 'topcoat'
const STAGES: readonly string[] = ['base', 'midcoat', 'clear']

/** Whether a rule averages the stages of a topcoat (40 CFR 59.104(a)(2)); the directive has one limit for all. */
const averages = ({ vocBasis }: Jurisdiction): boolean => vocBasis === 'us'

/** A cup with its VOC, as far as that is known. */
export type JudgedCup = CupVoc & { readonly stage: Stage | null; readonly figure: VocFigure | null }

/** What a cup had in it, against the limits of one jurisdiction: what costs most of all records, cup by cup. */
export function judged({ entry, sheet, portions }: MixedCup, place: Jurisdiction): JudgedCup {
  const { cup = '', at, job = null, data } = entry
  const of = {
    ...{ cup, at, job, name: String(data.name ?? ''), ml: Number(data.totalMl ?? 0) },
    ...(Array.isArray(data.alsoFor) ? { alsoFor: data.alsoFor.map(String) } : {}),
    ...{ category: null, gPerL: null, limitGPerL: null, isWithin: null },
    stage: sheet?.stage ?? null,
    figure: null,
  }
  if (sheet === null) return { ...of, why: 'sheetUnknown' }
  const figure = vocOf(portions, sheet, place.vocBasis)
  const category = categoryOf(sheet, place)
  if (figure === null) return { ...of, category, why: 'figuresMissing' }
  const gPerL = figure.regulatoryGPerL
  if (category === null) return { ...of, figure, gPerL, why: 'categoryUnknown' }
  const isStage = category === TOPCOAT && STAGES.includes(sheet.stage)
  if (averages(place) && isStage && job !== null)
    return { ...of, figure, category, gPerL, why: 'inAverage' }
  const found = judgeVoc(place, [category], figure)
  if (found === null) return { ...of, figure, category, gPerL, why: 'categoryUnknown' }
  return {
    ...{ ...of, figure, category, gPerL: found.gPerL },
    ...{ limitGPerL: found.limit.gPerL, isWithin: found.isWithin, why: null },
  }
}

function stagesOf(job: string, cups: readonly JudgedCup[], place: Jurisdiction): StagesVoc {
  const most = (stage: Stage) => {
    const figures = cups
      .filter((cup) => cup.stage === stage)
      .map(({ figure }) => figure?.regulatoryGPerL ?? null)
    return figures.includes(null)
      ? null
      : figures.length === 0
        ? undefined
        : Math.max(...(figures as number[]))
  }
  const midNames = [...new Set(cups.filter((c) => c.stage === 'midcoat').map(({ name }) => name))]
  const mids = midNames.map((name) => {
    const figures = cups
      .filter((c) => c.stage === 'midcoat' && c.name === name)
      .map((c) => c.figure)
    return figures.includes(null) ? null : Math.max(...figures.map((f) => f?.regulatoryGPerL ?? 0))
  })
  const [base, clear] = [most('base'), most('clear')]
  const id = mids.length > 0 ? 'topcoat-stages' : TOPCOAT
  const limitGPerL = place.limits.find((limit) => limit.id === id)?.gPerL ?? 0
  const of = { job, mids: mids.length, limitGPerL, gPerL: null, isWithin: null }
  if (base === undefined || clear === undefined) return { ...of, why: 'stageMissing' }
  if (base === null || clear === null || mids.includes(null))
    return { ...of, why: 'figuresMissing' }
  const { gPerL } = vocStages.run({ base, mid: mids as number[], clear })
  return { ...of, gPerL, isWithin: gPerL <= limitGPerL, why: null }
}

/** Every cup by its own limit, and where the rule averages stages, each job's topcoat. */
export function vocRecords(
  all: readonly JudgedCup[],
  place: Jurisdiction,
): { cups: readonly CupVoc[]; stages: readonly StagesVoc[] } {
  const isOfStage = ({ stage, category }: JudgedCup) =>
    stage !== null && STAGES.includes(stage) && (category === TOPCOAT || category === null)
  const byJob = new Map<string, JudgedCup[]>()
  for (const one of averages(place) ? all : []) {
    if (one.job === null || !isOfStage(one)) continue
    // A cup for several jobs is in the topcoat of each.
    for (const job of [one.job, ...(one.alsoFor ?? [])]) {
      const cups = byJob.get(job)
      if (cups) cups.push(one)
      else byJob.set(job, [one])
    }
  }
  return {
    cups: all.map(({ stage: _, figure: __, ...cup }) => cup),
    stages: [...byJob].map(([job, cups]) => stagesOf(job, cups, place)),
  }
}
