import type { Draft } from '../../machines/envelope.ts'
import { dueStep, type PanelContext } from '../../machines/panel/context.ts'
import { routeState } from '../../machines/panel/where.ts'
import { isSprayed } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { airFindings } from './randomAir.ts'
import { isOtherColour } from './randomColours.ts'
import { birthOf, cupFindings, gunFindings, isOtherTint } from './randomCups.ts'
import { type Answer3, flashOver, windowShut } from './randomGates.ts'
import { heatedIn, hotFindings } from './randomHeat.ts'
import type { World } from './randomIntervals.ts'
import type { Known } from './randomKnown.ts'

/**
 * A second judge of coats. It reads the entries that the log had, and where the panel stood by
 * folding them; when a flash is over, a window shut or a cup past its time it calculates by itself.
 */

/** Each rule that a coat can break, and whether this one does. 'close' is too near to say. */
export type Findings = { readonly [code: string]: Answer3 }

/** A coat whose start is judged: of one panel, from a cup perhaps. */
export type Claim = {
  readonly panel: string
  readonly startAt: number
  /** When the cup must have been there at the latest. */
  readonly cupBy: number
  readonly cup?: string | undefined
  readonly gun?: string | undefined
  readonly step?: number | undefined
  /** A start counts as a second one of its coat until the press that ended that. */
  readonly isStart: boolean
  /** Who said so. */
  readonly by?: string | null | undefined
}

/** The panel at the moment of the start, from its entries. */
export type Scene = {
  readonly known: Known
  readonly claim: Claim
  readonly state: State
  readonly panel: PanelContext
  /** Entries that the panel took, in order. */
  readonly taken: readonly Draft[]
  readonly world: World
  readonly zone: string
}

const PANEL_FACTS =
  'PanelAdded PanelMoved CoatStarted CoatContinued CoatFinished CoatInspected PanelAbraded ' +
  'PanelDenibbed ' +
  'PrepStepDone CureEnded PartRead'

function sceneOf(known: Known, claim: Claim): Scene | null {
  const addedAt = known.about('panel', claim.panel, 'PanelAdded')[0]?.at
  if (addedAt === undefined) return null
  // What happened before the panel was typed in is judged by the panel as it began.
  const until = Math.max(claim.startAt, addedAt)
  const then = claim.isStart ? known.pressedBy(until) : known
  const state = then.stateAt(until)
  const thing = state.things.panel[claim.panel]
  if (!thing) return null
  const taken = then
    .about('panel', claim.panel, PANEL_FACTS, until)
    .filter((e) => !thing.notTaken.includes(e.id))
  const moves = taken.filter((e) => e.type === 'PanelAdded' || e.type === 'PanelMoved')
  const stays = moves.map((e) => ({ fromMs: e.at, zone: String(e.data.zone) }))
  const surfaces = stays.flatMap(({ fromMs, zone }, i) =>
    known
      .about('zone', zone, 'ClimateRead')
      .filter((e) => e.data.surfaceC !== undefined && (i === 0 || e.at >= fromMs))
      .filter((e) => e.at < (stays[i + 1]?.fromMs ?? Infinity))
      .map((e) => ({ at: e.at, partC: Number(e.data.surfaceC) })),
  )
  const parts = taken
    .filter((e) => e.type === 'PartRead' && e.data.isEstimated !== true)
    .map((e) => ({ at: e.at, partC: Number(e.data.partC) }))
  return {
    known,
    claim,
    state,
    panel: thing.context,
    taken,
    world: {
      stays: stays.map((s) => ({
        fromMs: s.fromMs,
        readings: known.readings(s.zone),
        ranges: known.ranges(s.zone),
        heated: heatedIn(known, s.zone),
      })),
      parts: [...parts, ...surfaces].sort((a, b) => a.at - b.at),
      staleMs: 1_800_000,
    },
    zone: stays.at(-1)?.zone ?? '',
  }
}

/** The step that the coat is for: the next one, else one more of the last, else a later one. */
function stepOf({ panel, claim }: Scene, cup: { sheet: string; stage: string } | null): number {
  if (claim.step !== undefined) {
    return isSprayed(panel.route[claim.step]?.stage ?? 'cure') ? claim.step : dueStep(panel)
  }
  const fits = (i: number) => {
    const step = panel.route[i]
    if (!step || !isSprayed(step.stage)) return false
    if (cup === null) return true
    return step.sheet === undefined ? step.stage === cup.stage : step.sheet === cup.sheet
  }
  if (fits(dueStep(panel))) return dueStep(panel)
  const last = panel.coats.at(-1)?.step
  if (last !== undefined && last < dueStep(panel) && fits(last)) return last
  const later = panel.route.findIndex((_, i) => i > dueStep(panel) && fits(i))
  return later === -1 ? dueStep(panel) : later
}

/** Flash, look and window, between the last coat that is on and this one. */
function gateFindings(scene: Scene, target: number): Findings {
  const { taken, panel, known, claim, world } = scene
  const place = taken.findLastIndex((e) => e.type === 'CoatFinished')
  const last = taken[place]
  const opens = panel.coats.at(-1)?.opens ?? null
  // What is on of a coat that was broken off has rules of its own (tests/machines/rules/film.test.ts),
  // also where it is the first.
  if (panel.coats.at(-1)?.part) {
    return { flashNotOver: 'close', lookFirst: 'close', windowShut: 'close', wantsBase: 'close' }
  }
  if (!last || !opens)
    return { flashNotOver: 'no', lookFirst: 'no', windowShut: 'no', wantsBase: 'no' }
  const since = taken.slice(place + 1)
  const isSame = panel.coats.at(-1)?.step === target
  const later = known.sheet(panel.route[target]?.sheet, claim.startAt)
  const over = isSame ? undefined : later?.over.find((o) => o.stage === opens.stage)
  // Where the order of a pass is a guess, a panel may have been sprayed later than its share, or sooner.
  const passEnd = Number(last.data.passEndsAt ?? last.at)
  const begun = panel.coats.at(-1)?.startedAt ?? last.at
  const isGuess = last.data.isGuess === true
  const late = isSame ? Math.min(passEnd, last.at + Math.round((passEnd - begun) / 5)) : passEnd
  const flashFrom = isGuess ? late : last.at
  const windowFrom = isGuess ? Math.max(begun, last.at - Number(last.data.sprayMs)) : last.at
  const flash = flashOver({ opens, isSame, over, from: flashFrom, at: claim.startAt, world })
  const eyes = since.filter((e) => e.type === 'CoatInspected')
  const seen = eyes.findLast((e) => ['matt', 'notYet'].includes(String(e.data.result)))
  const mustLook = opens.flashBy === 'appearance' && seen?.data.result !== 'matt'
  const stageOf = (e: Draft) => panel.route[Number(e.data.step)]?.stage
  const isSanded = (e: Draft) =>
    stageOf(e) === 'sand' || (e.data.grit !== undefined && stageOf(e) !== 'polish')
  const abraded = since.findLast(
    (e) => e.type === 'PanelAbraded' || (e.type === 'PrepStepDone' && isSanded(e)),
  )
  const shut = windowShut({
    opens,
    isSame,
    over,
    from: windowFrom,
    at: claim.startAt,
    world,
    abradedAt: abraded?.at ?? null,
    curedAt: since.findLast((e) => e.type === 'CureEnded')?.at ?? null,
  })
  const notFlashed = { yes: 'no', no: 'yes', close: 'close' } as const
  const was = panel.route[panel.coats.at(-1)?.step ?? -1]
  const isFlaked = was?.stage === 'midcoat' || (was?.stage === 'base' && was.colour === 'stripe')
  const isTakenDown = since.some((e) => ['PanelAbraded', 'PanelDenibbed'].includes(e.type))
  // Through to the ground it is the base that has to go on, and the midcoat after that.
  const isThrough = taken.some((e) => e.data.toGround === true)
  const isOther = panel.route[target]?.stage !== was?.stage
  return {
    wantsBase: isThrough ? 'close' : isFlaked && isTakenDown && isOther ? 'yes' : 'no',
    flashNotOver: notFlashed[flash],
    lookFirst: mustLook ? 'yes' : 'no',
    windowShut: shut,
  }
}

/** Where the shop had people by then, a coat is one of theirs. */
function personFindings(known: Known, { startAt, by }: Claim): Findings {
  const there = new Map<string, boolean>()
  for (const e of known.live) {
    if (e.at > startAt || !['PersonAdded', 'PersonRetired'].includes(e.type)) continue
    there.set(String(e.data.person), e.type === 'PersonAdded')
  }
  const isAnybodyThere = [...there.values()].includes(true)
  return { noPerson: isAnybodyThere && there.get(by ?? '') !== true ? 'yes' : 'no' }
}

/** Another coat on the panel, a bake in its zone, one coat too many. */
function placeFindings(scene: Scene, target: number): Findings {
  const { panel, state, zone } = scene
  const isHeated = Object.values(state.things.panel).some((t) => {
    const other = t.context
    return other.cure !== null && other.cure.mode !== 'air' && other.stays.at(-1)?.zone === zone
  })
  const most = panel.route[target]?.coats?.most ?? Infinity
  const on = panel.coats.filter((c) => c.step === target && c.counts).length
  const isSprayable = isSprayed(panel.route[target]?.stage ?? 'cure')
  return {
    coatRunning: panel.open ? 'yes' : 'no',
    heatInZone: isHeated ? 'yes' : 'no',
    tooManyCoats: isSprayable && on + 1 > most ? (panel.wants.length > 0 ? 'close' : 'yes') : 'no',
  }
}

/**
 * Judges a coat again.
 * @param known what the log had when it was decided
 * @returns null where the log knew no such panel
 */
export function judgeAgain(known: Known, claim: Claim): Findings | null {
  const scene = sceneOf(known, claim)
  if (!scene) return null
  const { cup, findings } = cupFindings(known, claim)
  const target = stepOf(scene, cup)
  const colour = scene.panel.route[target]?.colour
  const born = cup === null ? undefined : birthOf(known, claim.cup ?? '', claim.cupBy)
  const { panel } = scene
  const isOther =
    isOtherColour(known, panel.job, colour, born) || isOtherTint(known, panel, target, born)
  const sheet = known.sheet(cup?.sheet ?? scene.panel.route[target]?.sheet, claim.startAt)
  return {
    ...gateFindings(scene, target),
    ...placeFindings(scene, target),
    ...findings,
    ...gunFindings(known, claim, cup),
    ...airFindings(scene, sheet),
    ...hotFindings(scene),
    ...personFindings(known, claim),
    wrongColour: isOther ? 'yes' : 'no',
  }
}

/** The state of a panel as the judge sees it, for messages. */
export const whereOf = (state: State, panel: string): string =>
  routeState(state.things.panel[panel]?.value)
