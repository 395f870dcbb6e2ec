import { lagOf } from '../climate/neighbors.ts'
import type { CommandData } from '../commands.ts'
import { wrongAt } from '../contract/wrongField.ts'
import { type Deciding, type Decision, type NewFact, refused } from '../deciding.ts'
import { judge } from '../judge.ts'
import { mayLead } from '../people/lead.ts'
import type { Problem } from '../refusals.ts'
import { heatWaits } from '../sheet/heatFlash.ts'
import { type CureFigures, curesOf } from '../sheet/intervals.ts'
import { isSprayed } from '../sheet/schema.ts'
import { panelKeys } from './coat.ts'
import { type CureMode, lastCoat, type PanelContext, zoneOf } from './context.ts'
import { bakedMs, bakePoint, cureEndsAt, heatFromAt } from './cureClock.ts'
import { type FoundPanel, findPanel, findPanels, isFound, notKnownYet } from './find.ts'
import { limitsIn, type VehicleLimit } from './inHeat.ts'
import { notFrom } from './notFrom.ts'
import { cureFiguresAt } from './opens.ts'
import { placeCure } from './place.ts'
import { wetProblems } from './room.ts'

/** The cures that every mix in the film allows. */
export function modesOf(figures: CureFigures): CureMode[] {
  const cures = curesOf(figures)
  return [
    ...(cures.every((c) => c.air) ? ['air' as const] : []),
    ...(cures.every((c) => c.bake.length > 0) ? ['bake' as const] : []),
    ...(cures.every((c) => c.infrared) ? ['infrared' as const] : []),
  ]
}

/** Nobody has typed how long the last coat flashes before this heat. Said late, it is not judged. */
function isHeatFlashUnknown({ state }: Deciding, panel: PanelContext, mode: CureMode): boolean {
  const opens = lastCoat(panel)?.opens
  return !!opens && mode !== 'air' && heatWaits(state, opens, mode) === null
}

function startProblems(
  d: Deciding,
  p: FoundPanel,
  step: number,
  mode: CureMode,
  modes: readonly CureMode[],
): Problem[] {
  const { panel } = p
  const about = { panel: p.id, about: panel.name }
  const problems = notFrom(d, p, { type: 'CureStarted', data: { step, mode } }, 'cure')
  if (step === -1 || p.where === 'unknown') return problems
  const before = panel.route.filter((_, i) => i < step && panel.status[i] === 'open')
  const sprayed = before.filter((s) => isSprayed(s.stage)).map((s) => s.stage)
  const byHand = before.filter((s) => !isSprayed(s.stage)).map((s) => s.stage)
  if (byHand.length > 0)
    problems.push({ code: 'wrongStep', limit: byHand.join(', '), value: 'cure', ...about })
  if (sprayed.length > 0)
    problems.push({ code: 'coatsMissing', limit: sprayed.join(', '), value: mode, ...about })
  if (!modes.includes(mode)) {
    problems.push({ code: 'noSuchCure', limit: modes.join(', '), value: mode, ...about })
  } else if (mode !== 'air' && isHeatFlashUnknown(d, panel, mode)) {
    if (d.isLive)
      problems.push({ code: 'flashNotOver', limit: null, value: d.at, why: 'notKnown', ...about })
  } else if (mode !== 'air') {
    const heatAt = heatFromAt(d.state, panel, mode)
    if (lastCoat(panel) && (heatAt === null || d.at < heatAt)) {
      const clears = heatAt === null ? {} : { clearsAt: heatAt }
      problems.push({ code: 'flashNotOver', limit: heatAt, value: d.at, ...clears, ...about })
    }
  }
  return problems
}

const zoneIn = ({ panel }: FoundPanel): string => zoneOf(panel)

/** What vehicles in the zone of a bake do not take. Only a lead may go on. */
function vehicleProblems(limits: readonly VehicleLimit[], setC: number | undefined): Problem[] {
  if (setC === undefined) return []
  return limits.flatMap(({ limitC, title }) =>
    typeof limitC === 'number' && setC > limitC
      ? [{ code: 'vehicleLimit' as const, limit: limitC, value: setC, about: title }]
      : [],
  )
}

/** A part that is hotter than its sheet allows, or a bake that is set so: a mark, the heat is a fact. */
function overheatProblems(p: FoundPanel, figures?: CureFigures, tempC?: number): Problem[] {
  const { maxPartC } = figures ?? {}
  if (maxPartC === undefined || tempC === undefined || tempC <= maxPartC) return []
  const about = { panel: p.id, about: p.panel.name }
  return [{ code: 'overheated', limit: maxPartC, value: tempC, ...about }]
}

/** Heat is refused for missing coats and for a flash before heat that is not over. */
export function startCure(d: Deciding<'StartCure', CommandData<'StartCure'>>): Decision {
  const { panels, mode, override } = d.data
  const setC = mode === 'bake' ? d.data.setC : undefined
  const { found, problems } = findPanels(d, panels)
  if (problems.length > 0) return refused(...problems)
  const zones = [...new Set(found.filter(({ panel }) => panel.stays.length > 0).map(zoneIn))]
  const limits = zones.map((zone) => limitsIn(d.state, zone))
  const tooHot = vehicleProblems(limits.flat(), setC)
  const isUnasked = mode === 'bake' && limits.flat().some(({ limitC }) => limitC === undefined)
  const all = found.map((p) => {
    const step = placeCure(p.panel)
    const figures = cureFiguresAt(d.state, p.panel, step, d.at)
    const wet = mode === 'air' ? [] : wetProblems(d, p, panels)
    const tooHotFor = overheatProblems(p, figures, setC)
    const problems = [...startProblems(d, p, step, mode, modesOf(figures)), ...wet, ...tooHotFor]
    return { p, step, figures, problems }
  })
  const notJudged = all.map(
    ({ p }) =>
      [
        p.id,
        [
          ...(isHeatFlashUnknown(d, p.panel, mode) ? ['flashNotOver'] : []),
          ...(isUnasked ? ['vehicleLimit'] : []),
        ],
      ] as const,
  )
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: [...all.flatMap((one) => one.problems), ...tooHot],
    notJudged: new Map(notJudged),
    override,
    mayLead: mayLead(d),
  })
  if ('refusal' in verdict) return verdict
  const facts = all.map(
    ({ p, step, figures }): NewFact => ({
      type: 'CureStarted',
      keys: panelKeys(p),
      data: {
        ...{ step, mode, figures },
        ...(setC === undefined ? {} : { setC }),
        ...(mode === 'bake' ? { lagC: lagOf(d.state, zoneIn(p)) } : {}),
      },
      marks: verdict.marks(p.id),
    }),
  )
  return { facts }
}

/** A part's temperature; without one, the part counts as being at its bake's temperature. */
export function readPart(d: Deciding<'ReadPart', CommandData<'ReadPart'>>): Decision {
  const found = findPanel(d, d.data.panel)
  if (!isFound(found)) return refused(found.problem)
  const isEstimated = d.data.partC === undefined
  const point = isEstimated ? bakePoint(found.panel) : null
  const partC = d.data.partC ?? point?.tempC ?? null
  // Late, its bake may not have been sent yet: the fold looks again.
  if (partC === null && d.isLive) return wrongAt('data.partC', undefined, 'partWhileBaking', {})
  const figures = found.panel.cure?.figures ?? lastCoat(found.panel)?.opens?.cure
  const problems =
    partC === null
      ? notFrom(d, found, { type: 'CureEnded', data: {} })
      : [
          ...notKnownYet(found),
          ...overheatProblems(found, figures, isEstimated ? undefined : partC),
        ]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const data = {
    ...(partC === null ? {} : { partC }),
    ...(isEstimated ? { isEstimated } : {}),
    ...(point?.basis === 'air' ? { ofAir: true } : {}),
  }
  return { facts: [{ type: 'PartRead', keys: panelKeys(found), data, marks: verdict.marks() }] }
}

/** The heat is off, or the film has had its time. An early end is a fact: it is recorded with what it lacks. */
export function endCure(d: Deciding<'EndCure', CommandData<'EndCure'>>): Decision {
  const { found, problems } = findPanels(d, d.data.panels)
  const notCuring = found.flatMap((p) => notFrom(d, p, { type: 'CureEnded', data: {} }))
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: [...problems, ...notCuring] })
  if ('refusal' in verdict) return verdict
  const facts = found.map((p): NewFact => {
    const endsAt = cureEndsAt(d.state, p.panel)
    const isComplete = endsAt !== null && d.at >= endsAt
    const short = { code: 'cureNotOver', limit: endsAt, value: d.at }
    const marks = verdict.marks(p.id)
    return {
      type: 'CureEnded',
      keys: panelKeys(p),
      data: { isComplete, endsAt, bakedMs: bakedMs(d.state, p.panel, d.at) },
      marks: isComplete ? marks : { ...marks, outside: [...(marks.outside ?? []), short] },
    }
  })
  return { facts }
}
