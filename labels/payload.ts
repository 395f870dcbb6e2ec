import { ID_ALPHABET } from '../machines/accept.ts'
import { SPRAYED, type SprayedStage, type Stage } from '../machines/sheet/schema.ts'
import { ratioCode } from './ratio.ts'
import { sealed, sealedShort } from './seal.ts'

/**
 * What the QR of a label says; code.ts reads it back. A device without a server understands a cup
 * from this text alone. Only signs of the QR alphanumeric set are used, so that the symbol stays
 * small; it holds no personal data and no address.
 *
 *   C1-K7F-K7F3QABC-J7K3MABC-CL2-2X1X0.5-25SNH-45-11278-ZC     a cup
 *   P2K7FR4TPDXYZ63                                           a panel, its form in seal.ts
 */

export const CUP_SCHEMA = 'C1'
export const PANEL_SCHEMA = 'P2'
/** Of tags printed earlier, P1-K7F-R4TPDXYZ-MZ: they hang on parts for as long as these are in the shop. */
export const OLD_PANEL_SCHEMA = 'P1'
/** Stands where a cup belongs to no job. */
export const STOCK = 'STOCK'
export const MINUTE_MS = 60_000
/** Minute 0 of a label's clock. Five base-36 digits last 115 years. */
export const EPOCH_MS = 1_577_836_800_000

/** The pictograms a label can draw, by their GHS number. */
export const PICTOGRAMS = { flame: '2', exclamation: '7', healthHazard: '8' } as const
export type Pictogram = keyof typeof PICTOGRAMS
export const PICTOGRAM_NAMES: readonly Pictogram[] = ['flame', 'exclamation', 'healthHazard']

/** "missing" is data nobody entered, which is not the same as a product that needs no signal word. */
export const SIGNALS = ['missing', 'danger', 'warning', 'none'] as const
export type Signal = (typeof SIGNALS)[number]

export type HazardCode = {
  readonly signal: Signal
  readonly isocyanate: boolean
  readonly pictograms: readonly Pictogram[]
}

/** What a cup's code says. Times are UTC milliseconds and are cut to the minute, never rounded up. */
export type CupCode = {
  readonly shopTag: string
  readonly cup: string
  /** Null for stock. */
  readonly job: string | null
  readonly stage: Stage
  readonly hasActivator: boolean
  /** As mixed: "2:1:0.5" or "4:1+10%". The code has no room for one over 16 signs. */
  readonly ratio: string
  readonly by: 'volume' | 'mass'
  readonly mixedAtMs: number
  /** Null where there is no pot life. */
  readonly useByMs: number | null
  /** Only read where there is no pot life; null where the sheet gives no keeping time. */
  readonly keepUntilMs: number | null
  readonly hazard: HazardCode
}

export const STAGE_CODES: { readonly [S in SprayedStage]: string } = {
  'adhesion-promoter': 'AD',
  primer: 'PR',
  sealer: 'SE',
  blender: 'BL',
  base: 'BA',
  midcoat: 'MI',
  clear: 'CL',
  'single-stage': 'SS',
}
export const OTHER_STAGE = 'OT'

/**
 * The class of a mix on its label: two letters of its stage, and 2 with an activator, 1 without.
 * @returns such as "CL2"; a stage that is not sprayed is "OT"
 */
export function classCode(mix: { stage: Stage; hasActivator: boolean }): string {
  const stage = SPRAYED.find((s) => s === mix.stage)
  return (stage ? STAGE_CODES[stage] : OTHER_STAGE) + (mix.hasActivator ? '2' : '1')
}

/** Before the code where the shop has it so: a phone's own camera then opens the kiosk at that label. */
const ADDRESS = /^https?:\/\/[a-z0-9.:-]+\/s\//i

/**
 * @param site of the shop's kiosk, such as "http://flashbell.lan:4600"
 * @returns what stands before a code: in capitals, which a QR holds as densely as the code itself
 */
export const addressBefore = (site: string): string => `${site.toUpperCase()}/S/`

/** A code without the address that may stand before it. */
export const bareCode = (text: string): string => text.replace(ADDRESS, '')

const base36 = (n: number) => n.toString(36).toUpperCase()
const minuteOf = (ms: number) => Math.floor((ms - EPOCH_MS) / MINUTE_MS)

const ID = new RegExp(`^[${ID_ALPHABET}]{8}$`)
const TAG = new RegExp(`^[${ID_ALPHABET}]{3}$`)

function must(isRight: boolean, field: string, given: unknown, use: string): void {
  if (!isRight) throw new RangeError(`${field}: ${String(given)} won't work. Use ${use}.`)
}

/**
 * The text of a cup's QR.
 *
 * Mixed-at and use-by are cut to whole minutes, so that what a scanner calculates is the clock time that
 * is printed and never later than the real one. A use-by before mixed-at (a cup poured from one
 * that was over) is written as 0 minutes.
 * @throws RangeError naming the field, for what a label cannot say
 */
export function encodeCupCode(label: CupCode): string {
  const id = `eight characters of ${ID_ALPHABET}`
  must(TAG.test(label.shopTag), 'shopTag', label.shopTag, `three characters of ${ID_ALPHABET}`)
  must(ID.test(label.cup), 'cup', label.cup, id)
  must(label.job === null || ID.test(label.job), 'job', label.job, `${id}, or null`)
  must(label.mixedAtMs >= EPOCH_MS, 'mixedAtMs', label.mixedAtMs, 'a time from 2020 on')
  return sealed([
    CUP_SCHEMA,
    label.shopTag,
    label.cup,
    label.job ?? STOCK,
    classCode(label),
    ratioCode(label.ratio).replaceAll(':', 'X') + (label.by === 'mass' ? 'M' : ''),
    base36(minuteOf(label.mixedAtMs)),
    potField(label),
    hazardField(label.hazard),
  ])
}

/** Minutes of pot life; without one 0K and the keep-until, or 0K alone where none is known. */
function potField(label: CupCode): string {
  if (label.useByMs !== null) {
    return String(Math.max(0, minuteOf(label.useByMs) - minuteOf(label.mixedAtMs)))
  }
  return `0K${label.keepUntilMs === null ? '' : base36(Math.max(0, minuteOf(label.keepUntilMs)))}`
}

/** Digits: signal, isocyanate, then one per pictogram. */
function hazardField(hazard: HazardCode): string {
  const pictures = PICTOGRAM_NAMES.filter((name) => hazard.pictograms.includes(name))
  const digits = pictures.map((name) => PICTOGRAMS[name]).join('')
  return `${SIGNALS.indexOf(hazard.signal)}${hazard.isocyanate ? 1 : 0}${digits}`
}

/**
 * The text of a panel tag's QR.
 * @throws RangeError naming the field, for what a tag cannot say
 */
export function encodePanelCode(tag: { shopTag: string; panel: string }): string {
  must(TAG.test(tag.shopTag), 'shopTag', tag.shopTag, `three characters of ${ID_ALPHABET}`)
  must(ID.test(tag.panel), 'panel', tag.panel, `eight characters of ${ID_ALPHABET}`)
  return sealedShort(PANEL_SCHEMA, tag.shopTag, tag.panel)
}
