import type { RefusalParams } from './refusalParams.ts'

/**
 * One table of every reason why a command is not accepted. Order is the order of checking; the
 * first that applies is given, the others are listed in `also`. Its sentence is made at the edge.
 */

/** Who may override it. People come with sign-in; until then anybody may do what a lead may. */
export type Role = 'anyone' | 'lead'

type Rule = {
  readonly overridableBy: Role | null
  /** True for what makes no sense: refused even when it comes as a late fact. */
  readonly isNonsense: boolean
}

export const MINUTE_MS = 60_000

const chemistry: Rule = { overridableBy: 'anyone', isNonsense: false }
const byLead: Rule = { overridableBy: 'lead', isNonsense: false }
const fact: Rule = { overridableBy: null, isNonsense: false }
const nonsense: Rule = { overridableBy: null, isNonsense: true }

export const REFUSALS = {
  unknownThing: nonsense,
  idTaken: nonsense,
  closed: nonsense,
  coatRunning: fact,
  wrongStep: fact,
  windowShut: chemistry,
  flashNotOver: chemistry,
  lookFirst: chemistry,
  cleanerWet: chemistry,
  notReady: chemistry,
  sandEarly: chemistry,
  wantsBase: chemistry,
  heatInZone: fact,
  /** Only the standing flash of another panel can be overridden: see `overridableBy`. */
  wetInZone: byLead,
  /** What is said of a panel or a job that is not known yet waits until it comes. */
  panelUnknown: fact,
  jobUnknown: fact,
  cupUnknown: fact,
  cupEmptied: fact,
  wrongProduct: fact,
  wrongColour: chemistry,
  /** Only where the shop wants to be stopped at the gun. */
  colourOff: chemistry,
  inductionNotOver: chemistry,
  potLifeOver: chemistry,
  keepOver: chemistry,
  ratioOff: chemistry,
  noActivator: chemistry,
  gunHolds: chemistry,
  /** Nothing is in it that could be poured back. */
  gunEmpty: fact,
  airOutside: chemistry,
  dewPoint: chemistry,
  /** Between the marks and the limits it is only recorded: see `isNoted`. */
  partTemp: chemistry,
  partHot: chemistry,
  noPerson: fact,
  tooManyCoats: fact,
  filmOver: fact,
  openFade: fact,
  forcedNoFigure: fact,
  /** Degreased over a product that a cleaner attacks. */
  cleanerOver: fact,
  optionOutside: fact,
  tooFewCoats: chemistry,
  nothingThere: fact,
  noRoom: fact,
  /** A coat without its activator is on. */
  neverCures: fact,
  coatsMissing: chemistry,
  noSuchCure: fact,
  /** A bake set above what a vehicle in the zone takes. */
  vehicleLimit: byLead,
  /** A part above what its sheet allows: the heat is in it already. */
  overheated: fact,
  curing: fact,
  notCuring: fact,
  cureNotOver: chemistry,
  stepsLeft: chemistry,
  routeInUse: nonsense,
  panelsOpen: chemistry,
  /** Limits of the job that were broken and about which nobody has decided. */
  deviationsOpen: chemistry,
  jobState: nonsense,
  bellNotDue: nonsense,
  snoozeNotAllowed: nonsense,
  entryInUse: nonsense,
} as const satisfies Record<string, Rule>

export type RefusalCode = keyof typeof REFUSALS

type Where = {
  /** When the reason ends by itself, UTC ms. */
  readonly clearsAt?: number
  /** The panel that it is about, where a pass has several. */
  readonly panel?: string
}

/** What speaks against a command. */
export type Problem = {
  [C in RefusalCode]: { readonly code: C } & Readonly<RefusalParams[C]> & Where
}[RefusalCode]

/** A problem as it crosses HTTP: what its sentence says, in any language. */
export type ToldProblem = {
  [C in RefusalCode]: { readonly code: C; readonly params: Readonly<RefusalParams[C]> } & Where
}[RefusalCode]

/** A command that was not accepted. */
export type Refusal = {
  readonly code: RefusalCode
  /** Those of the first problem. */
  readonly params: ToldProblem['params']
  readonly also: readonly RefusalCode[]
  readonly clearsAt?: number
  /** By who pressed. */
  readonly overridable: boolean
  /** A lead may override it, and who pressed is none. */
  readonly needsLead?: true
  /** The panels that it is about, where several were named. */
  readonly panels?: readonly string[]
  /** All that is said of the first code: one for each panel. */
  readonly problems: readonly ToldProblem[]
}

/** Codes by their older names, as entries of earlier programs have them. */
export const RENAMED: Readonly<Record<string, RefusalCode>> = { zoneBaking: 'heatInZone' }

/** Who may override a problem. Spraying beside heat, and heat in air that is not purged, nobody may. */
export const overridableBy = (problem: Problem): Role | null =>
  problem.code === 'wetInZone' && (problem.why === 'coat' || problem.why === 'purge')
    ? null
    : REFUSALS[problem.code].overridableBy

/**
 * Whether who pressed may override a problem.
 * @param mayLead whether he may do what a lead may
 */
export function mayOverride(problem: Problem, mayLead: boolean): boolean {
  const role = overridableBy(problem)
  return role === 'anyone' || (role === 'lead' && mayLead)
}

/** Codes that are only ever recorded, also when live: the coat is already on the panel. */
const NOTED: readonly RefusalCode[] = [
  'tooManyCoats',
  'optionOutside',
  'filmOver',
  'openFade',
  'forcedNoFigure',
  'cleanerOver',
  'overheated',
]

/** Whether a problem is recorded, and stops nothing. */
export const isNoted = (problem: Problem): boolean =>
  NOTED.includes(problem.code) ||
  (problem.code === 'wetInZone' && problem.why === 'water') ||
  (problem.code === 'partTemp' && problem.why === 'mark')

const ORDER = Object.keys(REFUSALS) as RefusalCode[]

/** Problems in the one fixed order of checking. */
export const inOrder = (problems: readonly Problem[]): Problem[] =>
  problems.toSorted((a, b) => ORDER.indexOf(a.code) - ORDER.indexOf(b.code))

const isForLead = (problem: Problem): boolean => overridableBy(problem) === 'lead'

function told({ code, clearsAt, panel, ...params }: Problem): ToldProblem {
  const where = { ...(clearsAt === undefined ? {} : { clearsAt }), ...(panel ? { panel } : {}) }
  return { code, params, ...where } as ToldProblem
}

/**
 * The refusal for problems that no override covers.
 * @param problems at least one
 * @param mayLead whether who pressed may do what a lead may
 */
export function refusalOf(problems: readonly Problem[], mayLead = true): Refusal {
  const sorted = inOrder(problems)
  const first = sorted[0] as Problem
  const own = sorted.filter((p) => p.code === first.code)
  const same = own.map(told)
  const also = [...new Set(sorted.map((p) => p.code))].filter((code) => code !== first.code)
  const clears = same.map((p) => p.clearsAt)
  const panels = [...new Set(same.flatMap((p) => p.panel ?? []))]
  return {
    code: first.code,
    params: told(first).params,
    also,
    ...(clears.every((c) => c !== undefined) ? { clearsAt: Math.max(...clears) } : {}),
    overridable: own.every((p) => mayOverride(p, mayLead)),
    ...(!mayLead && own.some(isForLead) && own.every((p) => mayOverride(p, true))
      ? { needsLead: true as const }
      : {}),
    ...(panels.length > 0 ? { panels } : {}),
    problems: same,
  }
}
