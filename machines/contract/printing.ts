import * as v from 'valibot'
import { fields, id40, list, number, oneOf, text, yesNo } from '../accept.ts'
import { rule } from './wrongField.ts'

/** Printing as it crosses HTTP. Printers, what waits for them and how they stand are kept beside the log. */

/** Why nothing comes out, or a printer cannot be used. The first of each line's names is the code. */
export type PrintTroubleParams = {
  /** It does not answer: off, or another address. */
  away: { readonly address: string }
  /** Something answers there that is not a printer. */
  notPrinter: { readonly address: string }
  /** It shows a certificate that nobody vouches for; `isOther`: not the one that was trusted. */
  unknownCertificate: { readonly fingerprint: string; readonly isOther: boolean }
  /** One that cannot be trusted either, such as one that is over. */
  badCertificate: { readonly reason: string }
  outOfMedia: object
  outOfSupply: object
  jam: object
  open: object
  paused: object
  busy: object
  /** The printer's own words for any other reason that it stands still. */
  stopped: { readonly reason: string }
  /** It will not have the job, whatever one tries. */
  refused: { readonly reason: string }
  noFormat: { readonly formats: readonly string[] }
  noResolution: { readonly resolutions: readonly string[] }
  noMedia: { readonly media: readonly string[] }
  /** What is to be printed does not fit on its paper. */
  tooSmall: { readonly widthMm: number; readonly heightMm: number; readonly missing: string }
  unknownPrinter: { readonly printer: string }
  noPrinter: object
  unknownThing: { readonly kind: string; readonly id: string }
  /** Nobody wanted it any more: written by hand, printed elsewhere, the cup is empty. */
  overtaken: object
  tooLate: object
}
export type PrintTroubleCode = keyof PrintTroubleParams
export type PrintTrouble = {
  [C in PrintTroubleCode]: { readonly code: C; readonly params: PrintTroubleParams[C] }
}[PrintTroubleCode]

/** What is printed; the last is a printer's test. */
export const PRINT_KINDS = [
  'cup',
  'panel',
  'job',
  'person',
  'gun',
  'shelf',
  'commands',
  'ruler',
] as const
export type PrintKind = (typeof PRINT_KINDS)[number]

export const DPIS = [203, 300] as const
export const DOCUMENTS = ['raster', 'pdf'] as const

const addressRule = rule('printerAddress', {})
/** Of the Internet Printing Protocol, with its path. */
export const printerAddress = v.pipe(
  v.string(addressRule),
  v.maxLength(200, addressRule),
  v.regex(
    /^ipps?:\/\/(?:[A-Za-z0-9._-]+|\[[0-9A-Fa-f:.]+\])(?::[0-9]{1,5})?(?:\/[!-~]*)?$/,
    addressRule,
  ),
)

const fingerprintRule = rule('fingerprint', {})
/** SHA-256 of a certificate, as printers show it. */
export const certificateFingerprint = v.pipe(
  v.string(fingerprintRule),
  v.regex(/^(?:[0-9A-F]{2}:){31}[0-9A-F]{2}$/, fingerprintRule),
)

/** A printer as the shop has set it up. */
export const printerSchema = fields({
  printer: id40,
  name: text(40),
  address: printerAddress,
  /** The printer's own name of its paper; without it the size alone is said. */
  media: v.optional(text(100)),
  widthMm: number(10, 330, 'mm'),
  heightMm: number(10, 500, 'mm'),
  dpi: v.picklist(DPIS, rule('oneOf', { words: DPIS.map(String) })),
  document: oneOf(DOCUMENTS),
  /** The code on its labels, a QR without it. Bars are on flat sheets alone, with a QR on labels. */
  symbology: v.optional(oneOf(['datamatrix', 'code128'])),
  /** Of the certificate that a person trusted, where nobody else vouches for it. */
  fingerprint: v.optional(certificateFingerprint),
})
export type Printer = v.InferOutput<typeof printerSchema>

/** The printers of a shop; the first that can print a thing does, where a kiosk has none of its own. */
export const printingSchema = fields({
  printers: list(printerSchema, 0, 20),
  /** MIXED prints the cup's label by itself. */
  auto: yesNo,
  /** Which kiosk prints where. */
  byKiosk: list(fields({ device: id40, printer: id40 }), 0, 200),
})
export type PrintingSettings = v.InferOutput<typeof printingSchema>

export const NO_PRINTING: PrintingSettings = { printers: [], auto: false, byKiosk: [] }

/** POST /api/print: the same id again is the same print. */
export const printSchema = fields({
  id: id40,
  kind: oneOf(PRINT_KINDS),
  /** Of the cup, the panel ...; a shelf's is its product, a ruler's its printer, and codes have any. */
  thing: id40,
  /** On a shelf's tag. */
  lot: v.optional(text(60)),
  printer: v.optional(id40),
  device: v.optional(v.nullable(id40)),
  by: v.optional(v.nullable(id40)),
  /** Why another copy is printed. */
  why: v.optional(text(80)),
})
export type PrintAsk = v.InferOutput<typeof printSchema>

/** One thing on its way to paper. `ended`: it came out, or nobody waits for it any more. */
export type PrintJob = PrintAsk & {
  readonly printer: string
  readonly askedMs: number
  /**
   * `waiting`: for its turn, or for its next try; `sent`: on its way, and until the printer has answered
   * nobody knows whether it came; `printing`: the printer has it.
   */
  readonly step: 'waiting' | 'sent' | 'printing' | 'done' | 'failed'
  readonly tries: number
  /** When it is tried or asked after again, UTC ms. */
  readonly nextMs: number
  /** When the label was drawn that was sent: what it says is of then. */
  readonly drawnMs: number | null
  /** The printer's number for it. */
  readonly number: number | null
  readonly trouble: PrintTrouble | null
  readonly endedMs: number | null
}

/** A paper that a printer has or takes. */
export type Media = {
  readonly media: string
  readonly widthMm: number
  readonly heightMm: number
  /** It lies in the printer now. */
  readonly isReady: boolean
}

/** What a printer says of itself: POST /api/printing/ask {address}. */
export type PrinterAbout = {
  readonly name: string
  readonly model: string
  readonly media: readonly Media[]
  /** Sizes that it takes without a name of their own, mm; null where it takes none. */
  readonly anySize: {
    readonly from: { readonly widthMm: number; readonly heightMm: number }
    readonly to: { readonly widthMm: number; readonly heightMm: number }
  } | null
  /** Ways to print on it, the better one first. */
  readonly ways: readonly Pick<Printer, 'dpi' | 'document'>[]
  readonly trouble: PrintTrouble | null
}

/** How a printer stands; null where it is well or was not asked yet. */
export type PrinterStanding = { readonly printer: string; readonly trouble: PrintTrouble | null }

/** GET /api/printing. */
export type PrintingAnswer = PrintingSettings & {
  readonly standing: readonly PrinterStanding[]
  /** The newest first. */
  readonly jobs: readonly PrintJob[]
}

/** What comes with every time that the server gives: null where nothing is wrong. */
export type PrintingStanding = {
  readonly printers: readonly {
    readonly name: string
    readonly trouble: PrintTrouble
    readonly waiting: number
  }[]
  /** Cups whose label was wanted and is not on paper. */
  readonly cups: readonly string[]
}
