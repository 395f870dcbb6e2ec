import type { Json } from './envelope.ts'

/**
 * One table of every reason why a command is not accepted. Order is the order of checking; the
 * first that applies is given, the others are listed in `also`.
 */
export type Problem = {
  readonly code: RefusalCode
  /** The limit that is broken and what was found: UTC ms for times, else the unit of the code. */
  readonly limit: Json
  readonly value: Json
  /** When the reason ends by itself, UTC ms. */
  readonly clearsAt?: number
  /** The panel that it is about, where a pass has several. */
  readonly panel?: string
  /** What the sentence is about: names as the shop gave them. */
  readonly about?: string
  /** Limit and value as the sentence says them, where they are not plain words or numbers. */
  readonly words?: { readonly limit: string; readonly value: string }
}

/** Who may override it. People come with sign-in; until then anybody may do what a lead may. */
export type Role = 'anyone' | 'lead'

type Rule = {
  readonly overridableBy: Role | null
  /** True for what makes no sense: refused even when it comes as a late fact. */
  readonly isNonsense: boolean
  readonly say: (p: Problem, now: number) => string
}

const MINUTE_MS = 60_000

/** A length for a sentence: "3 min 20 s". */
export function lengthText(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000))
  const h = Math.floor(seconds / 3600)
  const min = Math.floor((seconds % 3600) / 60)
  const s = seconds % 60
  const parts = [
    h > 0 ? `${h} h` : '',
    min > 0 ? `${min} min` : '',
    s > 0 && h === 0 ? `${s} s` : '',
  ]
  return parts.filter((part) => part !== '').join(' ') || '0 s'
}

const left = (p: Problem, now: number) =>
  p.clearsAt === undefined ? '' : ` It clears in ${lengthText(p.clearsAt - now)}.`
const ago = (limit: Json, now: number) => lengthText(now - Number(limit))
const of = (p: Problem) => p.about ?? 'this'

const chemistry = (say: Rule['say']): Rule => ({ overridableBy: 'anyone', isNonsense: false, say })
const fact = (say: Rule['say']): Rule => ({ overridableBy: null, isNonsense: false, say })
const nonsense = (say: Rule['say']): Rule => ({ overridableBy: null, isNonsense: true, say })

export const REFUSALS = {
  unknownThing: nonsense((p) => `${of(p)} is not known here: ${p.value}. Accepted is ${p.limit}.`),
  idTaken: nonsense(
    (p) => `${of(p)} ${p.value} exists already. Accepted is an id not used before.`,
  ),
  closed: nonsense((p) => `${of(p)} is closed. Reopen the job first.`),
  coatRunning: fact((p) => `${of(p)} has a coat running. Finish it first.`),
  wrongStep: fact((p) => `${of(p)} is not at that step: ${p.limit} comes next.`),
  windowShut: chemistry(
    (p, now) =>
      `The recoat window of ${of(p)} shut ${ago(p.limit, now)} ago.${left(p, now) || ' Abrade it, or follow the sheet.'}`,
  ),
  flashNotOver: chemistry((p, now) =>
    p.clearsAt === undefined
      ? `${of(p)} does not flash in this air: it is too humid.`
      : `${of(p)} has not flashed: ${lengthText(p.clearsAt - now)} to go.`,
  ),
  lookFirst: chemistry((p) => `Look at ${of(p)} first: the next coat goes on when it is matt.`),
  cupUnknown: fact((p) => `No cup ${p.value} is known here. Scan its label, or mix it first.`),
  cupEmptied: fact((p, now) => `Cup ${p.value} was emptied ${ago(p.limit, now)} ago.`),
  wrongProduct: fact((p) => `${of(p)} wants ${p.limit}, the cup holds ${p.value}.`),
  wrongColour: fact((p) => `${of(p)} wants colour ${p.limit}, the cup holds ${p.value}.`),
  inductionNotOver: chemistry((p, now) => `The mix must still stand.${left(p, now)}`),
  potLifeOver: chemistry(
    (p, now) => `The pot life of cup ${of(p)} ended ${ago(p.limit, now)} ago.`,
  ),
  gunHolds: chemistry((p) => `Gun ${of(p)} holds ${p.words?.limit ?? p.limit}. Clean it first.`),
  airOutside: chemistry(
    (p) => `The air of ${of(p)} is ${p.words?.value}; the sheet allows ${p.words?.limit}.`,
  ),
  dewPoint: chemistry(
    (p) =>
      `The surface of ${of(p)} is ${p.value} °C above the dew point; ${p.limit} °C is the least.`,
  ),
  zoneBaking: fact((p) => `Zone ${p.value} is baking. Wait until the bake has ended.`),
  noPerson: fact((p) => `Say who is spraying first: ${p.limit}.`),
  keepOver: fact((p, now) => `Cup ${of(p)} was to be kept until ${ago(p.limit, now)} ago.`),
  tooManyCoats: fact(
    (p) => `${of(p)} has ${p.value} coats of this step; the sheet allows ${p.limit}.`,
  ),
  tooFewCoats: chemistry(
    (p) => `${of(p)} has ${p.value} coats of this step; at least ${p.limit} are needed.`,
  ),
  nothingThere: fact((p) => `${of(p)} has no finished coat to look at.`),
  noRoom: fact((p) => `Cup ${of(p)} holds ${p.limit} mL; ${p.value} mL cannot be taken from it.`),
  coatsMissing: chemistry((p) => `${of(p)} still wants coats before that: ${p.limit}.`),
  noSuchCure: nonsense(
    (p) => `The sheet of ${of(p)} gives no cure by ${p.value}. It gives ${p.limit}.`,
  ),
  curing: fact((p) => `${of(p)} is curing already.`),
  notCuring: fact((p) => `${of(p)} is not curing.`),
  cureNotOver: chemistry((p, now) => `${of(p)} is not cured yet.${left(p, now)}`),
  stepsLeft: chemistry((p) => `${of(p)} still has steps to do: ${p.limit}.`),
  routeInUse: nonsense(
    (p) => `${of(p)} has work on step ${p.value}: ${p.limit} must stay as it is.`,
  ),
  panelsOpen: chemistry((p) => `Not every panel has passed: ${p.limit}.`),
  jobState: nonsense((p) => `Job ${of(p)} is ${p.value}; accepted is a job that is ${p.limit}.`),
  bellNotDue: nonsense((p) => `No bell ${p.value} is due. ${p.limit}`),
  snoozeNotAllowed: nonsense((p) => `This bell cannot be put off by ${p.value}: ${p.limit}.`),
  entryInUse: nonsense((p) => `Entry ${p.value} cannot be voided: ${p.limit}.`),
} as const satisfies Record<string, Rule>

export type RefusalCode = keyof typeof REFUSALS

/** A command that was not accepted. */
export type Refusal = {
  readonly code: RefusalCode
  readonly message: string
  readonly also: readonly RefusalCode[]
  readonly clearsAt?: number
  readonly overridable: boolean
  /** The panels that it is about, where several were named. */
  readonly panels?: readonly string[]
  /** What the sentence says, one for each of its parts: to say it in another language. */
  readonly problems?: readonly Problem[]
}

const ORDER = Object.keys(REFUSALS) as RefusalCode[]

/** Problems in the one fixed order of checking. */
export const inOrder = (problems: readonly Problem[]): Problem[] =>
  problems.toSorted((a, b) => ORDER.indexOf(a.code) - ORDER.indexOf(b.code))

/**
 * The refusal for problems that no override covers.
 * @param problems at least one
 * @param now UTC ms, for the lengths in its sentence
 */
export function refusalOf(problems: readonly Problem[], now: number): Refusal {
  const sorted = inOrder(problems)
  const first = sorted[0] as Problem
  const same = sorted.filter((p) => p.code === first.code)
  const also = [...new Set(sorted.map((p) => p.code))].filter((code) => code !== first.code)
  const clears = same.map((p) => p.clearsAt)
  const rule: Rule = REFUSALS[first.code]
  const panels = [...new Set(same.flatMap((p) => p.panel ?? []))]
  return {
    code: first.code,
    message: same.map((p) => rule.say(p, now)).join(' '),
    also,
    ...(clears.every((c) => c !== undefined) ? { clearsAt: Math.max(...clears) } : {}),
    overridable: rule.overridableBy !== null,
    ...(panels.length > 0 ? { panels } : {}),
    problems: same,
  }
}

export { MINUTE_MS }
