import type { Kind } from './catalog.ts'
import type { ThingKeys } from './envelope.ts'
import type { OpensBy } from './panel/shutters.ts'

/** What the sentence of each refusal is made of. */

/** What a command may name that is not there. */
export type NamedThing =
  | Extract<Kind, 'job' | 'panel' | 'sheet' | 'person'>
  | 'colour'
  | 'card'
  | 'activator'
  | 'reducer'
  | 'entry'
  | 'command'

/** Why a bell is not due. */
export type NotDue = 'gone' | 'early' | 'notRung' | 'acknowledged' | 'notThatFar'
/** What the sentence says of an entry that another one needs. `name`: the panel's, as it was then. */
export type Needing = ThingKeys & {
  readonly type: string
  readonly at: number
  readonly stage?: string
  readonly name?: string
}
/** Why an entry cannot be voided. */
export type InUse =
  | { readonly why: 'void' }
  | { readonly why: 'voided' }
  | { readonly why: 'letGo' }
  /** `name`: what a sentence calls it; refusals that an earlier build kept have its id alone. */
  | {
      readonly why: 'used'
      readonly kind: 'sheet' | 'job'
      readonly id: string
      readonly name?: string
    }
  | Rested
/** Another entry rests on it. Refusals that an earlier build kept say no more of that than its id. */
export type Rested = {
  readonly why: 'rested'
  readonly entry: string
  readonly kind: Kind
  readonly id: string
  readonly needing?: Needing
}

/**
 * What a sentence about a panel calls it, and what comes next on it: stages joined by ", ", or
 * `coatStart`, `sendBack`, `nothing`.
 */
type OfPanel = { about?: string }
type Air = { readonly airC: number; readonly rh: number }
export type AirLimits = { readonly minC?: number; readonly maxC?: number; readonly maxRh?: number }

/**
 * For each code the limit that is broken and what was found, UTC ms for times, else in the unit of
 * the code: both go to the log where a fact is kept in spite of it. The rest is for the sentence.
 */
export type RefusalParams = {
  unknownThing: { what: NamedThing; value: string; limit: readonly string[] | null }
  idTaken: { what: 'job' | 'panel' | 'cup'; limit: null; value: string }
  closed: { limit: string | null; value: string; about: string }
  coatRunning: OfPanel & { limit: null; value: string | null }
  wrongStep: OfPanel & { limit: string; value: string | number | null }
  /**
   * `why`: never over this product; not over a finish or over overspray that was not abraded. `opensBy`: what
   * opens it again, where work on the panel does.
   */
  windowShut: OfPanel & {
    limit: number
    value: number
    why?: 'never' | 'existing' | 'overspray'
    opensBy?: OpensBy
  }
  /** `why`: nobody has typed how long it flashes before heat. */
  flashNotOver: OfPanel & { limit: number | null; value: number; why?: 'notKnown' }
  lookFirst: OfPanel & { limit: number | null; value: number }
  cleanerWet: OfPanel & { limit: number; value: number }
  notReady: OfPanel & { limit: number | null; value: number; what: 'handle' | 'tape' | 'polish' }
  sandEarly: OfPanel & { limit: number | null; value: number }
  wantsBase: OfPanel & { limit: string; value: string }
  cupUnknown: { limit: null; value: string }
  panelUnknown: { limit: null; value: string }
  jobUnknown: { limit: null; value: string }
  cupEmptied: { limit: number | null; value: string }
  /** `held`: a gun has it in it, not a cup. */
  wrongProduct: OfPanel & { limit: string | null; value: string | null; held?: 'gun' }
  wrongColour: OfPanel & { limit: string | null; value: string | null; held?: 'gun' }
  /** In CIEDE2000; `value` null where no card was measured: `card` is the color then. */
  colourOff: OfPanel & { limit: number; value: number | null; card: string }
  inductionNotOver: { limit: number; value: number; about: string }
  potLifeOver: { limit: number; value: number; about: string }
  gunHolds: {
    limit: string | null
    value: string | null
    about: string
    held: { readonly name: string; readonly colour: string | null; readonly isOver: boolean }
  }
  gunEmpty: { limit: null; value: string; about: string }
  airOutside: OfPanel & { limit: AirLimits; value: Air }
  /** `why`: the air itself is so damp, whatever stands in it. */
  dewPoint: OfPanel & { limit: number; value: number; why?: 'air' }
  /** In °C; `why`: still within what is refused, but worth a mark. `limit`: that which it passed. */
  partTemp: OfPanel & { limit: number; value: number; why?: 'mark' }
  /** When it is cool at the latest; null while it is in the heat. */
  partHot: OfPanel & { limit: number | null; value: number }
  /** In °C. */
  vehicleLimit: { limit: number; value: number; about: string }
  overheated: OfPanel & { limit: number; value: number }
  /** The zone in which the heat is. */
  heatInZone: OfPanel & { limit: null; value: string }
  /** What is wet: a coat being sprayed, air not purged, another panel's flash, or one that flashes water. */
  wetInZone: OfPanel & {
    why: 'coat' | 'purge' | 'flash' | 'water'
    limit: number | null
    value: string
  }
  noPerson: { limit: readonly string[]; value: string | null }
  keepOver: { limit: number; value: number; about: string }
  /** Amounts in mL, or g where the sheet mixes by mass. */
  ratioOff: {
    limit: { readonly least: number; readonly most: number }
    value: number
    about: string
    part: string
    by: 'volume' | 'mass'
    add: readonly { readonly name: string; readonly amount: number }[]
  }
  noActivator: { limit: number; value: number; about: string; part: string }
  optionOutside: { limit: { minC: number; maxC: number }; value: number; about: string }
  tooManyCoats: OfPanel & { limit: number; value: number }
  /** A clear that ends off an edge or body line. */
  openFade: OfPanel & { limit: null; value: null }
  /** Seen matte under air movers, for which the sheet has no figure. */
  forcedNoFigure: OfPanel & { limit: null; value: null }
  /** `value`: the stage of what was degreased. */
  cleanerOver: OfPanel & { limit: null; value: string }
  /** In µm of dry film. */
  filmOver: OfPanel & { limit: number; value: number }
  tooFewCoats: OfPanel & { limit: number; value: number }
  nothingThere: OfPanel & { limit: null; value: null }
  noRoom: { limit: number; value: number; about: string }
  coatsMissing: OfPanel & { limit: string; value: string | null }
  noSuchCure: OfPanel & { limit: string; value: string }
  curing: OfPanel & { limit: null; value: null }
  notCuring: OfPanel & { limit: null; value: null }
  neverCures: OfPanel & { limit: null; value: null }
  cureNotOver: OfPanel & { limit: number | null; value: number }
  stepsLeft: OfPanel & { limit: string; value: null }
  routeInUse: OfPanel & { limit: string | null; value: number }
  panelsOpen: { limit: string; value: number }
  /** `limit`: the names of the panels, "" where it is a cup alone. */
  deviationsOpen: { limit: string; value: number }
  jobState: { limit: string; value: string; about: string }
  bellNotDue: { limit: NotDue; value: string }
  snoozeNotAllowed: { limit: number | null; value: number }
  entryInUse: { limit: InUse; value: string }
}
