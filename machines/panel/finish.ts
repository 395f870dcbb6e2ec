import type { CommandData } from '../commands.ts'
import { wrongAt } from '../contract/wrongField.ts'
import { leftMl } from '../cup/contents.ts'
import { cupProblems, findCup } from '../cup/find.ts'
import type { CupContext } from '../cup/machine.ts'
import { roomProblems } from '../cup/room.ts'
import { type Deciding, type Decision, type NewFact, refused } from '../deciding.ts'
import { joinedMarks, judge, type Marks } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { cupZoneOf, judgedBy, otherCupProblems, panelKeys, pastEnd, tintOf } from './coat.ts'
import { fitsOf, stepMeant } from './coatColour.ts'
import { judgeCoat } from './coatProblems.ts'
import { type CoatKind, dueStep, isSaidAlready } from './context.ts'
import type { FactOf } from './events.ts'
import { type FoundPanel, findPanel, findPanels, isFound } from './find.ts'
import { gateOf } from './gate.ts'
import { holdOf, type Product, productOf } from './hold.ts'
import { opensAt } from './opens.ts'
import { placeCoat } from './place.ts'
import { sprayMs } from './spraying.ts'
import { endOf } from './spread.ts'

type Finish = Deciding<'FinishCoat', CommandData<'FinishCoat'>>

/** A panel whose coat ends, when that was, and what was sprayed after it in the pass. */
type Ended = FoundPanel & {
  readonly at: number
  readonly after: NonNullable<FactOf<'CoatFinished'>['data']['after']>
}

const sprayMsOf = (d: Finish, { panel }: FoundPanel): number => sprayMs(d.state, panel, d.at)

/** The panels of a pass with their ends, spread backwards from the press: the last panel ends it. */
function spread(d: Finish, found: readonly FoundPanel[]): Ended[] {
  const takes = found.map((p) => ({ panel: p.id, sprayMs: sprayMsOf(d, p) }))
  return found.map((p, i) => {
    const after = takes.slice(i + 1)
    const spreadAt = after.reduce((at, one) => at - one.sprayMs, d.at)
    const at = after.length === 0 ? d.at : endOf(p.panel, d.data.startedAt, d.at, spreadAt)
    return { ...p, at, after }
  })
}

/** Each panel's share of the used material, by how long it takes. */
function shareOf(d: Finish, found: readonly FoundPanel[], p: FoundPanel): { usedMl?: number } {
  if (d.data.usedMl === undefined) return {}
  const total = found.reduce((sum, one) => sum + sprayMsOf(d, one), 0)
  return { usedMl: Math.round((10 * d.data.usedMl * sprayMsOf(d, p)) / total) / 10 }
}

/** A cup that is named only at the finish is judged then: when it was taken up is not known. */
function lateCupMarks(d: Finish, p: Ended, cup: CupContext | null): Marks {
  const id = d.data.cup
  if (id === undefined || p.panel.open?.cups.includes(id)) return {}
  const verdict = judge({
    isLive: false,
    now: d.now,
    problems: [...otherCupProblems(d, p, cup), ...cupProblems(d, id, cup, p.at)],
    override: d.data.override,
  })
  return 'marks' in verdict ? verdict.marks(p.id) : {}
}

function finishRunning(d: Finish, found: readonly FoundPanel[], p: Ended): NewFact {
  const open = p.panel.open as NonNullable<typeof p.panel.open>
  const named = findCup(d, d.data.cup)
  // A coat keeps what its cups held: over a night they may have been evicted.
  const held = open.cups.map((id, i) => open.holds?.[i] ?? holdOf(findCup(d, id)))
  const holds = d.data.cup === undefined ? held : [...held, holdOf(named)]
  const step = p.panel.route[open.step]
  const product = productOf(holds, step?.sheet)
  return {
    ...factOf(d, found, p, product, {
      kind: open.kind,
      ...(d.data.kind === open.kind ? {} : { ownKind: d.data.kind }),
      sheet: product.sheet ?? null,
      stage: holds.at(-1)?.stage ?? step?.stage ?? null,
    }),
    marks: joinedMarks(lateCupMarks(d, p, named), pastEnd(d, p.panel, p.at)),
  }
}

/** Where the cup of a pass is: where its last panel is, whose end is not spread. */
const lastZone = (p: Ended) => (p.after.length === 0 ? cupZoneOf(p) : {})

/** A finish as recorded, whether its coat was started or not. A cup is one that it names itself. */
function factOf(
  d: Finish,
  found: readonly FoundPanel[],
  p: Ended,
  product: Product,
  data: { readonly kind: CoatKind; readonly [field: string]: unknown },
): NewFact {
  const { cup } = d.data
  const { at, after } = p
  const opens = opensAt(d.state, product, at, data.kind)
  return {
    type: 'CoatFinished',
    at,
    keys: {
      ...panelKeys(p),
      ...(cup === undefined ? {} : { cup }),
      ...(opens ? { sheet: opens.sheet } : {}),
    },
    data: {
      ...data,
      // What was said of the coat is kept also where a running one needs none of it: that one may
      // turn out to have ended before.
      ...(d.data.step === undefined ? {} : { step: d.data.step }),
      ...(d.data.startedAt === undefined ? {} : { startedAt: d.data.startedAt }),
      ...(d.data.reachCm === undefined ? {} : { reachCm: d.data.reachCm }),
      opens,
      mixes: product.mixes,
      ...(cup === undefined
        ? {}
        : { own: holdOf(findCup(d, cup)), ...tintOf(findCup(d, cup)), ...lastZone(p) }),
      sprayMs: sprayMsOf(d, p),
      ...(after.length === 0 ? {} : { passEndsAt: d.at, after }),
      ...(found.length > 1 && !d.data.ordered ? { isGuess: true } : {}),
      ...shareOf(d, found, p),
    },
  }
}

/** The start of a coat that nobody reported: its finish less the spraying time, but not before the gate. */
function estimatedStart(d: Finish, p: Ended, cup: CupContext | null): number {
  const { at } = p
  const place = placeCoat(p.panel, {
    step: d.data.step,
    sheet: cup?.sheet ?? null,
    stage: cup?.stage ?? null,
  })
  const step = place?.step ?? dueStep(p.panel)
  const gate = gateOf(d.state, p.panel, step, at, d.data.kind)
  const estimate = at - sprayMsOf(d, p)
  const opensAt = gate?.flashEndsAt ?? estimate
  return opensAt > estimate && opensAt < at ? opensAt : estimate
}

/** A finish that says no step, from a cup whose color is for a step to come. */
function withStepMeant(d: Finish, p: Ended): Finish {
  const step = d.data.step ?? stepMeant(d, p, findCup(d, d.data.cup))
  return step === undefined ? d : { ...d, data: { ...d.data, step } }
}

/** A finish that was never started is a late fact: it is judged at its start and kept. */
function finishAlone(d: Finish, found: readonly FoundPanel[], p: Ended): NewFact {
  const cup = findCup(d, d.data.cup)
  const startAt = d.data.startedAt ?? estimatedStart(d, p, cup)
  const then: Deciding = { ...d, at: startAt, isLive: false }
  const before = findPanel(then, p.id)
  const judged = judgeCoat(then, isFound(before) ? before : p, {
    cupId: d.data.cup,
    // A cup that was emptied while the coat went on was not empty when it began. An estimate may lie
    // before the cup was mixed, which says nothing; a start that was typed says that it did.
    cup: findCup(then, d.data.cup) ?? (d.data.startedAt === undefined ? cup : null),
    step: d.data.step,
    kind: d.data.kind,
  })
  const verdict = judge({
    isLive: false,
    now: d.now,
    problems: judged.problems,
    notJudged: new Map([[p.id, judged.notJudged]]),
    standing: judged.standing,
    override: d.data.override,
  })
  const marks: Marks = 'marks' in verdict ? verdict.marks(p.id) : {}
  const step = p.panel.route[judged.place?.step ?? dueStep(p.panel)]
  const product = productOf(d.data.cup === undefined ? [] : [holdOf(cup)], step?.sheet)
  return {
    ...factOf(d, found, p, product, {
      kind: d.data.kind,
      sheet: product.sheet ?? null,
      stage: cup?.stage ?? step?.stage ?? null,
      ...(d.data.startedAt === undefined ? { estimatedStartAt: startAt } : {}),
      judged: judgedBy(d, judged, cup),
    }),
    marks,
  }
}

/**
 * A late finish that repeats another is kept, for the panel's chart to weigh: what it repeats may turn
 * out to be another coat's end. It breaks no rule for being said twice.
 */
function notJudged(fact: NewFact): NewFact {
  const { judged: _, ...data } = fact.data as { judged?: unknown }
  return { ...fact, data, marks: {} }
}

/** More was used than the cups of the pass can have held; only what was typed is judged. */
function usedProblems(d: Finish, found: readonly FoundPanel[]): Problem[] {
  const { usedMl, cup } = d.data
  if (usedMl === undefined) return []
  const ids = [...found.flatMap(({ panel }) => panel.open?.cups ?? []), ...(cup ? [cup] : [])]
  const named = [...new Set(ids)]
  const cups = named.flatMap((id) => findCup(d, id) ?? [])
  if (cups.length === 0 || cups.length < named.length) return []
  const roomMl = cups.reduce((sum, one) => sum + leftMl(one), 0)
  return roomProblems(named.join(', '), roomMl, usedMl)
}

/** The end of a pass. Its coats opened at the start; a coat without one brings its own. */
export function finishCoat(d: Finish): Decision {
  const { found, problems } = findPanels(d, d.data.panels)
  if (problems.length > 0) return refused(...problems)
  const { startedAt } = d.data
  if (startedAt !== undefined && startedAt > d.at) {
    return wrongAt('data.startedAt', startedAt, 'beforeFinish', {})
  }
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: usedProblems(d, found),
    override: d.data.override,
  })
  if ('refusal' in verdict) return verdict
  const facts = spread(d, found).flatMap((p, i) => {
    const isSaid = isSaidAlready(p.panel, d.data, d.data.cup, p.at, sprayMsOf(d, p))
    if (isSaid && d.isLive) return []
    const { data, ...rest } = p.panel.open
      ? finishRunning(d, found, p)
      : finishAlone(withStepMeant(d, p), found, p)
    const fits = fitsOf(d, p.panel, findCup(d, d.data.cup), d.data.step)
    const fact = { ...rest, data: { ...data, ...fits } }
    // A panel's finish has the same id, whichever others of the pass are known already.
    const marks = joinedMarks(fact.marks, verdict.marks())
    return [{ ...(isSaid ? notJudged(fact) : { ...fact, marks }), n: i }]
  })
  return { facts }
}
