import { cupProblems } from '../cup/find.ts'
import { keepAsked } from '../cup/keepAsk.ts'
import type { CupContext } from '../cup/machine.ts'
import { storedChecks } from '../cup/stored.ts'
import { contextThen, type Deciding, knownIds } from '../deciding.ts'
import { gunProblems, isGunKnown } from '../gun/find.ts'
import { loadOf } from '../gun/load.ts'
import type { Standing } from '../judge.ts'
import { isPresent } from '../people/fold.ts'
import type { Problem } from '../refusals.ts'
import { sheetAt } from '../sheet/fold.ts'
import { isSprayed } from '../sheet/schema.ts'
import { judgeAir } from './airGate.ts'
import type { AirNow } from './climate.ts'
import { colourOrTint } from './coatColour.ts'
import { cardProblems } from './colourGate.ts'
import { type CoatKind, coatsOn, dueStep, lastCoat, type Step, zoneOf } from './context.ts'
import { filmProblems } from './film.ts'
import type { FoundPanel } from './find.ts'
import { type Gate, gateOf } from './gate.ts'
import { isGateKnown, opensByAt, shutAt, withoutClocks } from './gateTimes.ts'
import { cleanerProblems, wantsBaseProblems } from './handWork.ts'
import { notFrom } from './notFrom.ts'
import { type Place, placeCoat } from './place.ts'
import { heatProblems } from './room.ts'
import { hotProblems } from './roomHeat.ts'
import { openFadeProblems, underProblems } from './under.ts'

/** What a start claims: the cup, and what comes with it. */
export type Claim = {
  readonly cupId: string | undefined
  readonly cup: CupContext | null
  readonly gunId?: string | undefined
  readonly step?: number | undefined
  readonly kind: CoatKind
}

/** A coat as judged: its step, its problems, and the numbers that it was judged by. */
export type Judged = {
  readonly place: Place | null
  readonly gate: Gate | null
  readonly problems: readonly Problem[]
  readonly notJudged: readonly string[]
  /** Overrides of before that cover it as well. */
  readonly standing: readonly Standing[]
  readonly air: AirNow | null
  readonly dewMarginC: number | null
  readonly surfaceAssumedC: number | null
}

/** The problems of a cup that does not fit its step. */
function stepProblems(p: FoundPanel, claim: Claim, place: Place | null): Problem[] {
  const { panel, id } = p
  const due = panel.route[dueStep(panel)]
  const about = { panel: id, about: panel.name }
  const product = claim.cup?.sheet ?? null
  const wrongStep: Problem = {
    code: 'wrongStep',
    limit: due?.stage ?? 'nothing',
    value: product,
    ...about,
  }
  const wrongProduct = (step: Step | undefined): Problem => ({
    code: 'wrongProduct',
    limit: step?.sheet ?? step?.stage ?? null,
    value: product,
    ...about,
  })
  if (claim.step !== undefined) {
    const isAgain = panel.route[claim.step]?.stage === panel.wants[0]
    const isMeant = claim.step === dueStep(panel) || claim.step === lastCoat(panel)?.step || isAgain
    if (!place || !isMeant) return [wrongStep]
    const step = panel.route[claim.step]
    const fits = product === null || (step?.sheet ?? product) === product
    return fits ? [] : [wrongProduct(step)]
  }
  if (place && place.skipped.length === 0) return []
  return due && isSprayed(due.stage) && product !== null ? [wrongProduct(due)] : [wrongStep]
}

/** What the panel's chart does not take in its state, and what its route has no step for. */
function startProblems(d: Deciding, p: FoundPanel, claim: Claim, place: Place | null): Problem[] {
  const { cup, step } = claim
  const data = { sheet: cup?.sheet ?? null, stage: cup?.stage ?? null, step }
  const ofStep = p.where === 'unknown' ? [] : stepProblems(p, claim, place)
  const barred = notFrom(d, p, { type: 'CoatStarted', data }, data.sheet)
  // For a coat without a place on the route the refusal names what the route expects.
  return [...barred.filter(({ code }) => code !== 'wrongStep' || ofStep.length === 0), ...ofStep]
}

function gateProblems(p: FoundPanel, gate: Gate | null, at: number): Problem[] {
  if (!gate) return []
  const about = { panel: p.id, about: p.panel.name }
  const shut = shutAt(gate, at)
  const problems: Problem[] = []
  if (shut) {
    const clears = shut.opensAgainAt === null ? {} : { clearsAt: shut.opensAgainAt }
    const never = shut.why === 'never' ? { why: 'never' as const } : {}
    const opensBy = opensByAt(gate, at)
    const by = opensBy === null ? {} : { opensBy }
    const limit = shut.shutsAt
    problems.push({ code: 'windowShut', limit, value: at, ...never, ...by, ...clears, ...about })
  }
  const { flashEndsAt, needsLook, lookAt } = gate
  if (flashEndsAt === null)
    problems.push({ code: 'flashNotOver', limit: null, value: at, ...about })
  else if (at < flashEndsAt) {
    problems.push({
      code: 'flashNotOver',
      limit: flashEndsAt,
      value: at,
      clearsAt: flashEndsAt,
      ...about,
    })
  }
  if (gate.isForced) problems.push({ code: 'forcedNoFigure', limit: null, value: null, ...about })
  if (needsLook) problems.push({ code: 'lookFirst', limit: lookAt, value: at, ...about })
  return problems
}

/** Where the shop had people at that time, a coat needs the name of one of them. */
export function personProblems(d: Deciding): Problem[] {
  const wasThere = (id: string) => isPresent(contextThen(d, 'person', id))
  const hadPeople = Object.keys(d.state.things.person).some(wasThere)
  if (!hadPeople || (d.command.by !== undefined && wasThere(d.command.by))) return []
  return [{ code: 'noPerson', limit: knownIds(d.state, 'person'), value: d.command.by ?? null }]
}

function coatCountProblems(p: FoundPanel, place: Place | null): Problem[] {
  const most = place ? (p.panel.route[place.step]?.coats?.most ?? null) : null
  if (!place || most === null) return []
  const { wants, route, status } = p.panel
  // What has to go on again where it was denibbed is free of the most.
  const isFree = route[place.step]?.stage === wants[0] && status[place.step] === 'done'
  const count = isFree ? 0 : coatsOn(p.panel, place.step) + 1
  return count > most
    ? [{ code: 'tooManyCoats', limit: most, value: count, panel: p.id, about: p.panel.name }]
    : []
}

/**
 * Everything that the start of a coat is judged by: step, window, flash, cup, gun and climate, at
 * the moment of the start.
 */
export function judgeCoat(d: Deciding, p: FoundPanel, claim: Claim): Judged {
  const { at } = d
  const { panel } = p
  const stage = claim.cup?.stage ?? null
  const place = placeCoat(panel, { step: claim.step, sheet: claim.cup?.sheet ?? null, stage })
  const target = place?.step ?? dueStep(panel)
  const step = panel.route[target]
  const gate = gateOf(d.state, panel, target, at, claim.kind)
  const isKnown = gate === null || isGateKnown(d.state, panel, gate, at)
  const sheet = sheetAt(d.state, claim.cup?.sheet ?? step?.sheet, at)?.sheet
  const stageOfCoat = stage ?? step?.stage ?? null
  const air = judgeAir(d, p, sheet, stageOfCoat)
  const problems: Problem[] = [
    ...startProblems(d, p, claim, place),
    ...gateProblems(p, gate && !isKnown ? withoutClocks(gate) : gate, at),
    ...underProblems(d, p, target),
    ...cleanerProblems(d, p),
    ...wantsBaseProblems(d, p, target),
    ...(claim.cupId === undefined ? [] : cupProblems(d, claim.cupId, claim.cup, at)),
    ...colourOrTint(d, p, claim.cup, target),
    ...cardProblems(d, p, claim.cup, step),
    ...(claim.gunId === undefined || claim.cupId === undefined
      ? []
      : gunProblems(d, claim.gunId, loadOf(claim.cupId, claim.cup), at)),
    ...air.problems,
    ...hotProblems(d, p),
    ...heatProblems(d, p, zoneOf(p.panel)),
    ...personProblems(d),
    ...coatCountProblems(p, place),
    ...openFadeProblems(p, target),
    ...filmProblems(d, p, {
      sheet: claim.cup?.sheet ?? step?.sheet,
      kind: claim.kind,
      step: target,
    }),
  ]
  return {
    place,
    gate: isKnown ? gate : null,
    problems,
    notJudged: [
      ...(isKnown ? [] : ['windowShut', 'flashNotOver']),
      ...(claim.gunId === undefined || isGunKnown(d.state, claim.gunId, at) ? [] : ['gunHolds']),
      ...air.notJudged,
      ...(claim.cup && storedChecks(d, claim.cup).length > 0 ? ['stored'] : []),
      ...(claim.cup && keepAsked(d.state, claim.cup, at) ? ['keepOver'] : []),
    ],
    standing: air.standing,
    air: air.air,
    dewMarginC: air.dewMarginC,
    surfaceAssumedC: air.surfaceAssumedC,
  }
}
