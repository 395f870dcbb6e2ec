import { wasHeatedIn } from '../climate/heats.ts'
import { partAt } from '../clock/line.ts'
import { cupEndsAt } from '../cup/ends.ts'
import type { Broken, Draft } from '../envelope.ts'
import { liveIn } from '../live.ts'
import { climateOf, dewMargin, freshAir } from '../panel/climate.ts'
import type { CoatKind, FinishedCoat, OpenCoat, PanelContext, Step } from '../panel/context.ts'
import { lastCoat, zoneAt } from '../panel/context.ts'
import { type Gate, gateOf } from '../panel/gate.ts'
import { shutAt } from '../panel/gateTimes.ts'
import { around, foldThrough } from '../refold.ts'
import type { Stage } from '../sheet/schema.ts'
import { contextOf, type State, thingOf } from '../state.ts'
import { type CureTold, curesOn } from './cureTold.ts'

/** A job told coat by coat: what each waited for, what it was sprayed from, and in what air. */

/** What a coat had to wait for, and from when: both UTC ms. `dueAt` null: in that air it would never have flashed. */
export type Wait = {
  readonly fromMs: number
  readonly dueAt: number | null
  /** Another coat of the same step lay under it. */
  readonly isSameStep: boolean
  /** The stage that lay under it. */
  readonly over: Stage | null
}

/** Until when a coat had to be on; `isShut` where it was not. */
export type Window = {
  readonly fromMs: number
  readonly shutsAt: number
  readonly isShut: boolean
  readonly why: 'window' | 'mustSand' | 'cured' | 'never'
}

export type CoatTold = {
  readonly panel: string
  /** The entry that says when it began, and the one that says when it ended. */
  readonly entry: string
  readonly finish: string | null
  readonly step: number
  readonly stage: Stage | null
  readonly sheet: string | null
  readonly kind: CoatKind
  /** The how-manieth of its step. */
  readonly nth: number
  readonly startedAt: number
  readonly finishedAt: number | null
  /** Nobody said when it began. */
  readonly isEstimated: boolean
  readonly cups: readonly string[]
  readonly gun: string | null
  readonly gunSet: {
    readonly inletKpa?: number
    readonly turns?: number
    readonly distanceCm?: number
  }
  readonly wait: Wait | null
  readonly window: Window | null
  readonly air: { readonly airC: number; readonly rh: number } | null
  readonly partC: number | null
  readonly dewMarginC: number | null
  /** When its cup's material was activated and when its time was over; null without a pot life. */
  readonly pot: { readonly bornAt: number; readonly endsAt: number } | null
  readonly usedMl: number | null
  readonly reachCm: number | null
  readonly broken: readonly Broken[]
  readonly notJudged: readonly string[]
  /** The steps of the route before it that were not done when it began. */
  readonly passedOver: readonly number[]
}

/** What was done by hand or looked at, as its entry says it. */
export type HandTold = Pick<Draft, 'at' | 'data' | 'type'> & {
  readonly entry: string
  readonly broken: readonly Broken[]
}

export type PanelTold = {
  readonly id: string
  readonly name: string
  readonly operation: PanelContext['operation']
  readonly substrate: string | null
  readonly areaM2: number | null
  readonly route: readonly Step[]
  readonly stays: PanelContext['stays']
  readonly coats: readonly CoatTold[]
  readonly cures: readonly CureTold[]
  readonly hands: readonly HandTold[]
  readonly films: NonNullable<PanelContext['films']>
  readonly addedAt: number
  readonly passedAt: number | null
}

export const brokenIn = ({ outside = [], override }: Draft): readonly Broken[] => [
  ...outside,
  ...(override?.broken ?? []),
]

function waitOf(
  before: PanelContext,
  step: number,
  gate: Gate | null,
  startedAt: number,
): Wait | null {
  const last = lastCoat(before)
  if (!gate || !last) return null
  return {
    fromMs: last.share?.passToMs ?? last.finishedAt,
    dueAt: gate.needsLook
      ? Math.max(gate.lookAt ?? startedAt, gate.flashEndsAt ?? 0)
      : gate.flashEndsAt,
    isSameStep: last.step === step,
    over: last.opens?.stage ?? null,
  }
}

function windowOf(gate: Gate | null, at: number): Window | null {
  if (!gate) return null
  const fromMs = gate.after.finishedAt
  const shut = shutAt(gate, at)
  if (shut) return { fromMs, shutsAt: shut.shutsAt, isShut: true, why: shut.why }
  const ahead = gate.shutters.filter(({ why, shutsAt }) => why === 'window' && shutsAt > at)
  if (ahead.length === 0) return null
  return { fromMs, shutsAt: Math.min(...ahead.map((s) => s.shutsAt)), isShut: false, why: 'window' }
}

function potOf(state: State, cups: readonly string[]): CoatTold['pot'] {
  const pots = cups.flatMap((id) => {
    const cup = contextOf(state, 'cup', id)
    const endsAt = cup && cup.clocks.length > 0 ? cupEndsAt(state, cup) : null
    if (!cup || endsAt === null) return []
    return [{ bornAt: Math.min(...cup.clocks.map(({ startMs }) => startMs)), endsAt }]
  })
  return pots.toSorted((a, b) => a.endsAt - b.endsAt)[0] ?? null
}

type Begun = Omit<CoatTold, 'finish' | 'finishedAt' | 'usedMl' | 'reachCm' | 'cups'>

/** What is known of a coat at its beginning. */
function begun(
  state: State,
  id: string,
  before: PanelContext,
  entry: Draft,
  coat: OpenCoat | FinishedCoat,
  nth: number,
): Begun {
  const { step, startedAt, kind, isEstimated, gun } = coat
  const stage = (entry.data.stage ?? before.route[step]?.stage ?? null) as Stage | null
  const gate = gateOf(state, before, step, startedAt, kind)
  const climate = climateOf(state, before)
  const air = freshAir(climate, startedAt)
  const set = entry.data.gunSet as CoatTold['gunSet'] | undefined
  return {
    panel: id,
    entry: entry.id,
    step,
    stage,
    sheet: (entry.data.sheet ?? before.route[step]?.sheet ?? null) as string | null,
    kind,
    nth,
    startedAt,
    isEstimated,
    gun,
    gunSet: set ?? {},
    wait: waitOf(before, step, gate, startedAt),
    window: windowOf(gate, startedAt),
    air: air && { airC: air.airC, rh: air.rh },
    partC: partAt(climate, startedAt) ?? null,
    dewMarginC: dewMargin(climate, startedAt, (sinceMs) =>
      wasHeatedIn(state, zoneAt(before, startedAt), sinceMs, startedAt),
    ),
    pot: potOf(state, coat.cups),
    broken: brokenIn(entry),
    notJudged: entry.notJudged ?? [],
    passedOver: before.status.flatMap((is, i) => (i < step && is !== 'done' ? [i] : [])),
  }
}

const numberIn = (data: Draft['data'], key: string): number | null =>
  typeof data[key] === 'number' ? (data[key] as number) : null

const HAND: readonly string[] = [
  'PrepStepDone',
  'StepSkipped',
  'PanelAbraded',
  'PanelDenibbed',
  'PanelPolished',
  'PanelMoved',
  'CoatInspected',
  'PanelPassed',
  'PanelSentBack',
  'FilmRead',
]

/** One panel's way, entry by entry. */
function panelTold(state: State, id: string): PanelTold | null {
  const thing = thingOf(state, { kind: 'panel', id })
  if (!thing || thing.context.stays.length === 0) return null
  const live = liveIn(thing.entries)
  const coats: CoatTold[] = []
  const hands: HandTold[] = []
  const visits: { before: PanelContext; entry: Draft }[] = []
  let before: PanelContext | null = null
  let open: Begun | null = null
  const nthOf = (step: number) => coats.filter((coat) => coat.step === step).length + 1
  foldThrough('panel', live, around(state), (entry, { context: after, notTaken }) => {
    const was = before
    before = after
    if (!was || notTaken.at(-1) === entry.id) return
    visits.push({ before: was, entry })
    if (HAND.includes(entry.type)) {
      const { type, at, data } = entry
      hands.push({ entry: entry.id, type, at, data, broken: brokenIn(entry) })
    }
    if (!was.open && after.open)
      open = begun(state, id, was, entry, after.open, nthOf(after.open.step))
    const coat = lastCoat(after)
    const isNew =
      coat !== undefined && coat.entry !== lastCoat(was)?.entry && coat.entry === entry.id
    if (isNew) {
      const start = open ?? begun(state, id, was, entry, coat, nthOf(coat.step))
      coats.push({
        ...start,
        broken: open ? [...start.broken, ...brokenIn(entry)] : start.broken,
        finish: entry.id,
        finishedAt: coat.finishedAt,
        cups: coat.cups,
        pot: potOf(state, coat.cups),
        usedMl: numberIn(entry.data, 'usedMl'),
        reachCm: coat.reachCm ?? null,
      })
      open = null
    }
  })
  const { context } = thing
  const running = open as Begun | null
  if (running && context.open)
    coats.push({
      ...running,
      ...{ finish: null, finishedAt: null, usedMl: null, reachCm: null, cups: context.open.cups },
    })
  const { name, operation, substrate, areaM2, route, stays, films = [], passedAt } = context
  return {
    ...{ id, name, operation, substrate, areaM2, route, stays, films, passedAt },
    addedAt: live[0]?.at ?? 0,
    coats,
    cures: curesOn(state, visits),
    hands,
  }
}

/**
 * Every panel of a job as it is known now: a late coat is judged with the others, and what was voided
 * is not there.
 * @param state from `retold`
 */
export const panelsTold = (state: State): PanelTold[] =>
  Object.keys(state.things.panel).flatMap((id) => panelTold(state, id) ?? [])
