import { STALE_MS } from '../clock/line.ts'
import type { Draft } from '../envelope.ts'
import { climateOf, PART_HOLD_MS } from '../panel/climate.ts'
import { type Cure, type CureMode, lastCoat, type PanelContext } from '../panel/context.ts'
import { bakedMs, cureEndsAt, heatFromAt } from '../panel/cureClock.ts'
import { MINUTE_MS } from '../refusals.ts'
import { curesOf } from '../sheet/intervals.ts'
import type { Stage } from '../sheet/schema.ts'
import type { State } from '../state.ts'

/** A cure as it went: what it waited for, and how much of it the film had. */
export type CureTold = {
  readonly entry: string
  /** The entry that ended it. */
  readonly end: string | null
  /** None: the panel was passed without the cure of its route. */
  readonly mode: CureMode | 'none'
  /** The film that was cured: the stage of the last coat. */
  readonly stage: Stage | null
  readonly startedAt: number
  readonly endedAt: number | null
  /** Flash before heat: from the last coat to when heat was allowed; null for an air cure. */
  readonly wait: { readonly fromMs: number; readonly dueAt: number | null } | null
  /** Of the time that the sheet wants, 1 being all; null where nobody measured. */
  readonly share: number | null
  /** What it was estimated by was a touch, not a reading. */
  readonly isMeasured: boolean
  /** The hottest that the part was measured, and what the sheet's hottest figure asks. */
  readonly hottest: { readonly partC: number; readonly limitC: number } | null
}

/** Less than this share of a bake with readings says nothing of the rest of it. */
const MEASURED_SHARE = 0.5

/** For how much of a bake somebody measured, part or air. */
function measuredShare(state: State, panel: PanelContext, cure: Cure, endedAt: number): number {
  const length = Math.max(1, endedAt - cure.startedAt)
  const spans = [
    ...panel.parts.map(({ at }) => [at, at + PART_HOLD_MS] as const),
    ...(basisIn(cure) === 'air'
      ? climateOf(state, panel).stays.flatMap(({ readings }) =>
          readings.map(({ at }) => [at, at + STALE_MS] as const),
        )
      : []),
  ]
    .map(([from, to]) => [Math.max(from, cure.startedAt), Math.min(to, endedAt)] as const)
    .filter(([from, to]) => to > from)
    .toSorted((a, b) => a[0] - b[0])
  let [sum, until] = [0, 0]
  for (const [from, to] of spans) {
    sum += Math.max(0, to - Math.max(from, until))
    until = Math.max(until, to)
  }
  return sum / length
}

const basisIn = ({ figures }: Cure) => curesOf(figures)[0]?.bake[0]?.basis ?? 'part'

/** How much of its time a cure had had by an instant. */
function shareBy(state: State, panel: PanelContext, cure: Cure, at: number) {
  if (cure.mode !== 'bake') {
    const endsAt = cureEndsAt(state, panel)
    const share =
      endsAt === null ? null : (at - cure.startedAt) / Math.max(1, endsAt - cure.startedAt)
    return { share, isMeasured: share !== null }
  }
  const bakes = curesOf(cure.figures).flatMap(({ bake }) => bake)
  const baked = bakedMs(state, panel, at)
  const shares = bakes.map(({ minutes }, i) => (baked[i] ?? 0) / (minutes * MINUTE_MS))
  const best = shares.length === 0 ? null : Math.max(...shares)
  const isMeasured = measuredShare(state, panel, cure, at) >= MEASURED_SHARE
  // What was not measured was not short: nobody knows.
  return { share: best !== null && (best >= 1 || isMeasured) ? best : null, isMeasured }
}

function hottestIn(panel: PanelContext, cure: Cure, endedAt: number): CureTold['hottest'] {
  const figures = curesOf(cure.figures).flatMap(({ bake }) => bake.map(({ tempC }) => tempC))
  const measured = panel.parts
    .filter(({ at }) => at >= cure.startedAt && at <= endedAt)
    .map(({ partC }) => partC)
  if (figures.length === 0 || measured.length === 0) return null
  return { partC: Math.max(...measured), limitC: Math.max(...figures) }
}

type Visit = { readonly before: PanelContext; readonly entry: Draft }

/**
 * The cures of a panel.
 * @param visits each entry that its chart took, with the panel just before it
 */
export function curesOn(state: State, visits: readonly Visit[]): CureTold[] {
  const cures: CureTold[] = []
  for (const { before, entry } of visits) {
    const { cure } = before
    const last = cures.at(-1)
    if (entry.type === 'CureStarted') cures.push(startedOn(state, before, entry))
    const isEnd = ['CureEnded', 'PanelPassed', 'CoatStarted', 'PanelRemoved'].includes(entry.type)
    if (cure && isEnd && last && last.end === null) {
      cures[cures.length - 1] = {
        ...last,
        end: entry.id,
        endedAt: entry.at,
        ...shareBy(state, before, cure, entry.at),
        hottest: hottestIn(before, cure, entry.at),
      }
    }
    if (entry.type === 'PanelPassed' && !cure) cures.push(...neverCured(before, entry, cures))
  }
  return cures
}

function startedOn(state: State, before: PanelContext, { id, at, data }: Draft): CureTold {
  const film = lastCoat(before)
  const mode = data.mode as CureMode
  const wait =
    mode === 'air' || !film
      ? null
      : {
          fromMs: film.share?.passToMs ?? film.finishedAt,
          dueAt: heatFromAt(state, before, mode),
        }
  return {
    ...{ entry: id, end: null, mode, stage: film?.opens?.stage ?? null },
    ...{ startedAt: at, endedAt: null, wait, share: null, isMeasured: false, hottest: null },
  }
}

/** Passed although its route still had a cure. */
function neverCured(before: PanelContext, { id, at }: Draft, cures: readonly CureTold[]) {
  const isOpen = before.route.some((s, i) => s.stage === 'cure' && before.status[i] !== 'done')
  const film = lastCoat(before)
  const stage = film?.opens?.stage ?? null
  if (!isOpen || !film || cures.some((cure) => cure.stage === stage)) return []
  return [
    {
      ...{ entry: id, end: id, mode: 'none' as const, stage },
      ...{ startedAt: at, endedAt: at, wait: null, share: 0, isMeasured: true, hottest: null },
    },
  ]
}
