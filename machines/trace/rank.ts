import { type Cause, type Check, causesOf, type Defect, LAYERS, NOT_VISIBLE } from './causes.ts'
import { bandOf, type Finding, isKept, type Level, type Signal } from './signals.ts'

/**
 * Which of a defect's causes the record speaks for. Each starts as usual as it is and is multiplied by
 * what its own signals say in the right place. Never more than likely: a record proves nothing.
 */

/** How much more usual a cause is with such a figure than without one. Defaults; a shop's own come from its reviews. */
export const RATIO: Readonly<Record<Level, number>> = {
  severe: 6,
  clear: 3,
  mild: 1.5,
  within: 0.5,
  clearlyWithin: 0.25,
}
/** Causes that act together count together no more than this. */
const TOGETHER_MOST = 12
/** Halved or doubled by what the other panels of the job say. */
const BESIDE = 2

export const STRENGTHS = ['unlikely', 'possible', 'likely', 'strong'] as const
export type Strength = (typeof STRENGTHS)[number]
/** From these shares on, of the least that the recorded facts leave a cause. */
const FROM: readonly (readonly [Strength, number])[] = [
  ['strong', 0.5],
  ['likely', 0.3],
  ['possible', 0.1],
]
/** Under this, or with less than half recorded, the record does not decide. */
const DECIDES = 0.35
const RECORDED = 0.5

export type Asked = {
  readonly defect: Defect
  /** The panels that have it. */
  readonly panels: readonly string[]
  /** The stage that it is in, where somebody knows. */
  readonly stage?: string | undefined
  /** What happened after it was seen did not cause it, UTC ms. */
  readonly noticedAt?: number | undefined
}

/** A cause as the record shows it. */
export type Ranked = {
  readonly id: Signal | 'notVisible'
  readonly verdict: 'supported' | 'ruledOut' | 'notRecorded'
  readonly strength: Strength
  /** Its share of all causes by what is recorded, and the least of it whatever the missing facts were. */
  readonly share: number
  readonly least: number
  readonly speaksFor: readonly Finding[]
  readonly against: readonly Finding[]
  readonly notRecorded: readonly Signal[]
  readonly check: Check | null
  /** The other causes that it acts together with; they are shown as one. */
  readonly together: readonly Signal[]
}

export type Verdict = {
  readonly defect: Defect
  readonly causes: readonly Ranked[]
  /** Of the figures that this log can hold about the defect, 0 to 1. */
  readonly recordedShare: number
  readonly decides: boolean
}

const isBad = ({ level }: Finding): boolean => RATIO[level] > 1

/** Whether a finding lies where a cause acts. */
function isInPlace(cause: Cause, asked: Asked, { stage, over, at }: Finding): boolean {
  if (asked.noticedAt !== undefined && at > asked.noticedAt) return false
  if (cause.layers === 'promoter') return over === 'adhesion-promoter'
  const layers: readonly string[] | null = LAYERS[cause.layers]
  if (layers !== null && !layers.includes(stage ?? '')) return false
  const isNarrowed = asked.stage !== undefined && (layers === null || layers.includes(asked.stage))
  return !isNarrowed || stage === asked.stage
}

type Weighed = {
  readonly cause: Cause
  readonly found: readonly Finding[]
  readonly missing: readonly Signal[]
  /** As recorded; and the least and the most that it could be once the missing facts were known. */
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly beside: number
}

const worst = (found: readonly Finding[]): number => Math.max(...found.map((f) => RATIO[f.level]))

/** The most that a missing figure could say, and the least. */
const MOST = RATIO.severe
const LEAST = RATIO.clearlyWithin

/**
 * What the other panels say: of a cause that they shared without the defect less, of one that this
 * panel had alone more; the other way round where all of them have it.
 */
function besideOf(
  cause: Cause,
  asked: Asked,
  own: readonly Finding[],
  all: readonly Finding[],
  panels: readonly string[],
): number {
  const bad = own.filter(isBad)
  const sound = panels.filter((id) => !asked.panels.includes(id))
  if (bad.length === 0 || panels.length < 2) return 1
  const isShared = bad.some(({ signal }) => bandOf(signal).isShared)
  if (sound.length === 0) return isShared ? BESIDE : 1 / BESIDE
  const theirs = all.filter((f) => sound.includes(f.panel) && isInPlace(cause, asked, f))
  const hadThePass = bad.some(({ cup, stage }) =>
    theirs.some((f) => f.stage === stage && (f.cup === cup || !isShared)),
  )
  if (!hadThePass) return 1
  return isShared ? 1 / BESIDE : BESIDE
}

function weigh(
  cause: Cause,
  asked: Asked,
  all: readonly Finding[],
  panels: readonly string[],
): Weighed {
  const signals = cause.signals.filter(isKept)
  const found = all.filter(
    (f) =>
      asked.panels.includes(f.panel) && signals.includes(f.signal) && isInPlace(cause, asked, f),
  )
  const missing = cause.signals.filter((one) => !found.some(({ signal }) => signal === one))
  const unknown = missing.filter(isKept)
  const known = found.length === 0 ? null : worst(found)
  return {
    ...{ cause, found, missing },
    // Any of a cause's signals is enough; what is not recorded says nothing either way.
    ratio: Math.max(known ?? 0, missing.length > 0 ? 1 : 0),
    low: known ?? (signals.length > 0 ? LEAST : 1),
    high: unknown.length > 0 ? MOST : (known ?? 1),
    beside: besideOf(cause, asked, found, all, panels),
  }
}

/** One or several causes that are shown as one. */
type Group = {
  readonly of: readonly Weighed[]
  readonly score: number
  readonly low: number
  readonly high: number
}

const product = (values: readonly number[]): number => values.reduce((a, b) => a * b, 1)

function groupOf(of: readonly Weighed[]): Group {
  const prior = of.reduce((sum, { cause }) => sum + cause.prior, 0)
  const [first] = of as [Weighed]
  const by = (pick: (one: Weighed) => number) =>
    of.length === 1
      ? first.cause.prior * pick(first)
      : prior * Math.min(TOGETHER_MOST, product(of.map(pick)))
  return {
    of,
    score: by(({ ratio, beside }) => ratio * beside),
    low: by(({ low, beside }) => low * beside),
    high: by(({ high, beside }) => high * Math.max(1, beside)),
  }
}

/** Supported causes of one kind act together; every other stands alone. */
function grouped(all: readonly Weighed[]): Group[] {
  const isSupported = ({ found }: Weighed) => found.some(isBad)
  const kinds = new Map<string, Weighed[]>()
  const groups: Weighed[][] = []
  for (const one of all) {
    const { together } = one.cause
    const kind = together !== null && isSupported(one) ? kinds.get(together) : undefined
    if (kind) {
      kind.push(one)
      continue
    }
    const group = [one]
    groups.push(group)
    if (together !== null && isSupported(one)) kinds.set(together, group)
  }
  return groups.map((group) =>
    groupOf(group.toSorted((a, b) => b.cause.prior * b.ratio - a.cause.prior * a.ratio)),
  )
}

const strengthOf = (least: number): Strength =>
  FROM.find(([, from]) => least >= from)?.[0] ?? 'unlikely'

/** Worst first, then as it happened; each figure once. */
const byLevel = (found: readonly Finding[]): Finding[] =>
  found.toSorted((a, b) => RATIO[b.level] - RATIO[a.level] || a.at - b.at)

function rankedOf(group: Group, total: number, others: number): Ranked {
  const [lead] = group.of as [Weighed]
  const found = group.of.flatMap((one) => one.found)
  const supports = byLevel(found.filter(isBad))
  const missing = [...new Set(group.of.flatMap((one) => one.missing))]
  const least = group.low / (group.low + others)
  const isKnown = found.length > 0 && missing.length === 0
  return {
    id: lead.cause.id,
    verdict: supports.length > 0 ? 'supported' : isKnown ? 'ruledOut' : 'notRecorded',
    strength: strengthOf(least),
    share: group.score / total,
    least,
    speaksFor: supports,
    against: byLevel(found.filter((f) => !isBad(f))).toReversed(),
    notRecorded: missing,
    check: lead.cause.check,
    together: group.of.slice(1).map(({ cause }) => cause.id),
  }
}

/**
 * Ranks the causes of a defect.
 * @param all the figures of every panel of the job; those of other panels count as background only
 * @param panels of the job that were sprayed
 * @param priors a shop's own, by the name of the cause
 */
export function rank(
  asked: Asked,
  all: readonly Finding[],
  panels: readonly string[],
  priors: Readonly<Record<string, number>> = {},
): Verdict {
  const causes = causesOf(asked.defect).map((cause) => ({
    ...cause,
    prior: priors[cause.id] ?? cause.prior,
  }))
  const weighed = causes.map((cause) => weigh(cause, asked, all, panels))
  const groups = grouped(weighed).toSorted((a, b) => b.score - a.score)
  const total = groups.reduce((sum, { score }) => sum + score, NOT_VISIBLE)
  const ranked = groups.map((group) => {
    const others = groups.reduce((sum, one) => sum + (one === group ? 0 : one.high), NOT_VISIBLE)
    return rankedOf(group, total, others)
  })
  const hidden: Ranked = {
    ...{ id: 'notVisible', verdict: 'notRecorded', share: NOT_VISIBLE / total },
    ...{ least: NOT_VISIBLE / total, strength: strengthOf(Math.min(0.49, NOT_VISIBLE / total)) },
    ...{ speaksFor: [], against: [], notRecorded: [], check: null, together: [] },
  }
  const kept = weighed.flatMap(({ cause, missing }) =>
    cause.signals.filter(isKept).map((signal) => !missing.includes(signal)),
  )
  const recordedShare = kept.length === 0 ? 0 : kept.filter((is) => is).length / kept.length
  const top = Math.max(0, ...ranked.filter((r) => r.verdict === 'supported').map((r) => r.least))
  return {
    defect: asked.defect,
    causes: [...ranked, hidden].toSorted((a, b) => b.share - a.share),
    recordedShare,
    decides: top >= DECIDES && recordedShare >= RECORDED,
  }
}
