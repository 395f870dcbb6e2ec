import { can } from '../can.ts'
import type { CommandData } from '../commands.ts'
import {
  type Deciding,
  type Decision,
  jobNotKnownYet,
  knownIds,
  refused,
  thingThen,
  unknown,
} from '../deciding.ts'
import { judge } from '../judge.ts'
import { liveIn } from '../live.ts'
import { isClosedFor } from '../panel/find.ts'
import type { Problem } from '../refusals.ts'
import { isRetired, sheetAt } from '../sheet/fold.ts'
import { chosenOptions, waitOf } from '../sheet/intervals.ts'
import { potLives } from '../sheet/potLife.ts'
import type { Sheet } from '../sheet/schema.ts'
import { thingOf } from '../state.ts'
import { paintOf } from './colours.ts'
import { labelOf } from './ends.ts'
import { findCup } from './find.ts'
import { isReduced, keepsUntil } from './keepMix.ts'
import type { CupContents } from './machine.ts'
import type { Paint } from './paint.ts'
import { climateOf, rangeProblems } from './range.ts'
import { offParts, SCALE_STEP_G, weighedParts } from './ratio.ts'
import { severalProblems, sharedWith } from './several.ts'

/** The ratio as the sheet says it: its components' parts. */
export const ratioText = (sheet: Sheet): string => sheet.components.map((c) => c.parts).join(':')

type Mix = {
  sheet: Sheet
  version: number
  activator?: string | undefined
  reducer?: string | undefined
  /** By name, those that the sheet has figures for. */
  additives?: readonly string[]
}

/** What a cup holds whose clock starts at an instant. */
export function contentsOf(
  mix: Mix,
  at: number,
  zone: string,
  totalMl: number,
  colour: string | null,
): CupContents {
  const { sheet, version } = mix
  const options = chosenOptions(sheet, mix.activator, mix.reducer, mix.additives)
  const clocks = potLives(sheet, options).map((interval) => ({ startMs: at, zone, interval }))
  return {
    sheet: sheet.sheet,
    sheetVersion: version,
    stage: sheet.stage,
    name: sheet.name,
    totalMl,
    ratio: ratioText(sheet),
    by: sheet.by,
    zone,
    colour,
    activator: mix.activator ?? null,
    reducer: mix.reducer ?? null,
    ...(mix.additives?.length ? { withAdditives: mix.additives } : {}),
    clocks,
    keepUntilMs:
      clocks.length > 0 || mix.activator !== undefined
        ? null
        : keepsUntil(sheet, at, isReduced(sheet, mix.reducer)),
    induction: sheet.induction ? { startMs: at, zone, interval: waitOf(sheet.induction) } : null,
    untilMs: null,
  }
}

/** Options that the sheet does not have. */
function optionProblem(
  sheet: Sheet,
  data: { activator?: string | undefined; reducer?: string | undefined },
) {
  const missing = (
    field: 'activator' | 'reducer',
    names: readonly { name: string }[],
  ): Problem[] => {
    const given = data[field]
    if (given === undefined || names.some((n) => n.name === given)) return []
    return [
      unknown(
        field,
        given,
        names.map((n) => n.name),
      ),
    ]
  }
  return [...missing('activator', sheet.activators), ...missing('reducer', sheet.reducers)]
}

function jobProblems(
  d: Deciding,
  jobId: string | undefined,
  colour: string | undefined,
): Problem[] {
  if (jobId === undefined) return []
  const thing = thingOf(d.state, { kind: 'job', id: jobId })
  if (!thing || thing.value === 'unknown')
    return d.isLive
      ? [unknown('job', jobId, knownIds(d.state, 'job'))]
      : jobNotKnownYet(false, jobId)
  const job = thing.context
  if (isClosedFor(d, jobId))
    return [{ code: 'closed', limit: null, value: jobId, about: job.title }]
  const keys = job.colours.map((c) => c.key)
  const isKnown = colour === undefined || keys.length === 0 || keys.includes(colour)
  return isKnown ? [] : [unknown('colour', colour, keys)]
}

export const isTaken = (d: Deciding, id: string): boolean => {
  const thing = thingOf(d.state, { kind: 'cup', id })
  // A cup that was poured from one that is not known yet waits for that: its id is taken.
  const isPoured = liveIn(thing?.entries ?? []).some((e) => e.data.role === 'child')
  return thing !== undefined && (thing.value !== 'unmixed' || isPoured)
}
export const taken = (id: string): Problem => ({
  code: 'idTaken',
  what: 'cup',
  limit: null,
  value: id,
})

/** The problems of a fact in the cup's state: none where its chart takes it. */
export function notFrom(
  d: Deciding,
  id: string,
  type: 'CupLabelPrinted' | 'CupEmptied' | 'CupMoved' | 'CupChecked' | 'CupMeasured',
): Problem[] {
  const thing = thingThen(d, { kind: 'cup', id })
  if (can(d, 'cup', thing, { type, data: {} })) return []
  return [{ code: 'cupEmptied', limit: thing?.context.emptiedAt ?? null, value: id }]
}

/** What was weighed, and what of it is outside the ratio's tolerance. */
function pouredIn(sheet: Sheet, pouredG: readonly number[] | undefined, scaleG = SCALE_STEP_G) {
  const parts = pouredG && weighedParts(sheet, pouredG, scaleG)
  return parts ? { parts, off: offParts(sheet, parts) } : {}
}

/** What the cup's color stands for in its job, so that it can be compared when the job is long closed. */
function paintIn(
  d: Deciding,
  job: string | undefined,
  colour: string | undefined,
  tint: string | undefined,
): { paint?: Paint } {
  if (colour === undefined) return {}
  const paint = paintOf(d.state, job ?? null, colour)
  return { paint: { ...paint, ...(tint === undefined ? {} : { tint }) } }
}

export function mixCup(d: Deciding<'MixCup', CommandData<'MixCup'>>): Decision {
  const {
    cup,
    sheet: sheetId,
    job,
    totalMl,
    zone,
    colour,
    activator,
    reducer,
    tint,
    scaleG,
    ...rest
  } = d.data
  if (isTaken(d, cup)) return refused(taken(cup))
  const saved = sheetAt(d.state, sheetId, d.at)
  if (!saved || isRetired(d.state, sheetId, d.at)) {
    return refused(unknown('sheet', sheetId, knownIds(d.state, 'sheet')))
  }
  const ofOthers = (rest.alsoFor ?? []).flatMap((other) => jobProblems(d, other, undefined))
  const problems = [
    ...jobProblems(d, job, colour),
    // Another job that is not known yet is said by what that job is told.
    ...ofOthers.filter(({ code }) => code !== 'jobUnknown'),
    ...severalProblems(d, d.data),
    ...optionProblem(saved.sheet, d.data),
  ]
  problems.push(
    ...rangeProblems(
      d,
      zone,
      chosenOptions(
        saved.sheet,
        activator,
        reducer,
        (rest.additives ?? []).map(({ name }) => name),
      ),
    ),
  )
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const additives = (rest.additives ?? []).map(({ name }) => name)
  const known = (saved.sheet.additives ?? []).map(({ name }) => name)
  const named = additives.filter((name) => known.includes(name)).sort()
  const mix = { sheet: saved.sheet, version: saved.version, activator, reducer, additives: named }
  const contents = contentsOf(mix, d.at, zone, totalMl, colour ?? null)
  const climate = climateOf(d, zone)
  return {
    facts: [
      {
        type: 'CupMixed',
        keys: { cup, sheet: sheetId, zone, ...(job === undefined ? {} : { job }) },
        data: {
          ...contents,
          ...paintIn(d, job, colour, tint),
          ...pouredIn(saved.sheet, rest.pouredG, scaleG),
          ...rest,
          ...(climate ? { climate } : {}),
        },
        marks: verdict.marks(),
      },
      ...sharedWith(d, cup, { sheet: sheetId, alsoFor: rest.alsoFor ?? [] }),
    ],
  }
}

/**
 * The use-by on a label binds once the label is printed, or written on the cup by hand where it did
 * not print: the cup ends at that time, or earlier if its clock says so.
 */
export function printLabel(d: Deciding<'PrintLabel', CommandData<'PrintLabel'>>): Decision {
  const { cup: id, byHand } = d.data
  const cup = findCup(d, id)
  const problems: Problem[] = cup ? notFrom(d, id, 'CupLabelPrinted') : [cupUnknown(id)]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const data = {
    // Of a cup that is not known yet the fold says it, once the cup is.
    ...(cup ? labelOf(d.state, cup, d.at) : NOT_SAID),
    ...(byHand ? { byHand } : {}),
  }
  const job = cup?.job ?? null
  const keys = { cup: id, ...(job === null ? {} : { job }) }
  return { facts: [{ type: 'CupLabelPrinted', keys, data, marks: verdict.marks() }] }
}

const NOT_SAID = { untilMs: null, keepUntilMs: null, copy: 1 }
export const cupUnknown = (id: string): Problem => ({ code: 'cupUnknown', limit: null, value: id })

export function emptyCup(d: Deciding<'EmptyCup', CommandData<'EmptyCup'>>): Decision {
  const { cup: id, ...data } = d.data
  const cup = findCup(d, id)
  const problems: Problem[] = cup ? notFrom(d, id, 'CupEmptied') : [cupUnknown(id)]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const job = cup?.job ?? null
  const keys = { cup: id, ...(job === null ? {} : { job }) }
  return { facts: [{ type: 'CupEmptied', keys, data, marks: verdict.marks() }] }
}
