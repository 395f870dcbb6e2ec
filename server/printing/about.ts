import {
  DPIS,
  type Media,
  type Printer,
  type PrinterAbout,
} from '../../machines/contract/printing.ts'
import {
  type Attribute,
  attribute,
  type IppMessage,
  type Range,
  type Resolution,
  textsIn,
  type Value,
  valuesOf,
} from './ippMessage.ts'
import { PrinterError, troubleIn } from './ippPrinter.ts'
import { RASTER_TYPES, type RasterType } from './pwgRaster.ts'

/** What a printer says of itself, as far as labels go. */

export const PWG_RASTER = 'image/pwg-raster'
export const PDF = 'application/pdf'
const MM_PER_INCH = 25.4

/** The size at the end of a PWG name (PWG 5101.1), such as "om_label_57x32mm" or "na_index-4x6_4x6in". */
export function sizeOf(media: string): { widthMm: number; heightMm: number } | null {
  const [, wide, high, unit] = /_([0-9.]+)x([0-9.]+)(mm|in)$/.exec(media) ?? []
  if (wide === undefined || high === undefined) return null
  const mm = (text: string) =>
    Math.round(Number(text) * (unit === 'in' ? MM_PER_INCH : 1) * 100) / 100
  return { widthMm: mm(wide), heightMm: mm(high) }
}

const isNamedRange = (media: string): boolean => /^custom_(min|max)_/.test(media)

/** @throws PrinterError where it takes nothing that we can make */
export function aboutOf(answer: IppMessage): PrinterAbout {
  const ways = waysOf(answer)
  const text = (name: string) => textsIn(answer, 'printer', name)[0] ?? ''
  return {
    name: text('printer-info') || text('printer-name'),
    model: text('printer-make-and-model'),
    media: mediaOf(answer),
    anySize: anySizeOf(answer),
    ways,
    trouble: troubleIn(answer),
  }
}

function mediaOf(answer: IppMessage): Media[] {
  const ready = textsIn(answer, 'printer', 'media-ready')
  const all = textsIn(answer, 'printer', 'media-supported').filter((media) => !isNamedRange(media))
  return [...new Set([...ready, ...all])].flatMap((media) => {
    const size = sizeOf(media)
    return size ? [{ media, ...size, isReady: ready.includes(media) }] : []
  })
}

const isRange = (value: Value): value is Range =>
  typeof value === 'object' && value !== null && 'from' in value
const HUNDREDTHS = 100

/** From the range among its sizes (RFC 8011's collections, PWG 5100.7), or by two names of custom sizes. */
function anySizeOf(answer: IppMessage): PrinterAbout['anySize'] {
  for (const size of valuesOf(answer, 'printer', 'media-size-supported')) {
    if (!Array.isArray(size)) continue
    const of = (name: string) =>
      (size as readonly Attribute[]).find((one) => one.name === name)?.values[0] ?? null
    const [x, y] = [of('x-dimension'), of('y-dimension')]
    if (!isRange(x) && !isRange(y)) continue
    const ends = (value: Value): Range =>
      isRange(value) ? value : { from: Number(value), to: Number(value) }
    const [wide, high] = [ends(x), ends(y)]
    return {
      from: { widthMm: wide.from / HUNDREDTHS, heightMm: high.from / HUNDREDTHS },
      to: { widthMm: wide.to / HUNDREDTHS, heightMm: high.to / HUNDREDTHS },
    }
  }
  const named = textsIn(answer, 'printer', 'media-supported')
  const end = (form: RegExp) => sizeOf(named.find((media) => form.test(media)) ?? '')
  const [from, to] = [end(/^custom_min_/), end(/^custom_max_/)]
  return from && to ? { from, to } : null
}

/** Dots per inch of what it takes as raster, for those that are as many down as across. */
function resolutionsOf(answer: IppMessage): number[] {
  const raster = valuesOf(answer, 'printer', 'pwg-raster-document-resolution-supported')
  const all =
    raster.length > 0 ? raster : valuesOf(answer, 'printer', 'printer-resolution-supported')
  return all.filter(isResolution).flatMap(({ cross, feed, unit }) => {
    if (cross !== feed) return []
    return [unit === 'dpi' ? cross : Math.round(cross * 2.54)]
  })
}

const isResolution = (value: Value): value is Resolution =>
  typeof value === 'object' && value !== null && 'cross' in value

/** How many of the printer's dots each of ours becomes: a whole number, or it cannot be. */
export const timesFor = (dpi: Printer['dpi'], answer: IppMessage): number | null => {
  const times = resolutionsOf(answer)
    .filter((printers) => printers % dpi === 0)
    .map((printers) => printers / dpi)
  return times.length === 0 ? null : Math.min(...times)
}

export function rasterTypeOf(answer: IppMessage): RasterType | null {
  const takes = textsIn(answer, 'printer', 'pwg-raster-document-type-supported')
  return (Object.keys(RASTER_TYPES) as RasterType[]).find((type) => takes.includes(type)) ?? null
}

/** Raster first, where the dots come out even: every dot is then ours. Otherwise PDF, which the printer draws. */
function waysOf(answer: IppMessage): PrinterAbout['ways'] {
  const formats = textsIn(answer, 'printer', 'document-format-supported')
  const dpis = DPIS.filter((dpi) => timesFor(dpi, answer) !== null)
  const isRaster = formats.includes(PWG_RASTER) && rasterTypeOf(answer) !== null
  const raster = isRaster ? dpis.map((dpi) => ({ dpi, document: 'raster' as const })) : []
  const pdfDpis = dpis.length > 0 ? dpis : DPIS.slice(-1)
  const pdf = formats.includes(PDF) ? pdfDpis.map((dpi) => ({ dpi, document: 'pdf' as const })) : []
  const ways = [...raster, ...pdf]
  if (ways.length > 0) return ways
  if (!isRaster) throw new PrinterError({ code: 'noFormat', params: { formats } })
  const resolutions = resolutionsOf(answer).map((dpi) => `${dpi} dpi`)
  throw new PrinterError({ code: 'noResolution', params: { resolutions } })
}

/** The paper of a job: by the printer's own name, else by its size (PWG 5100.7 media-col). */
export function jobAttributes(printer: Printer, answer: IppMessage): Attribute[] {
  const { media, widthMm, heightMm } = printer
  const size = [
    attribute('x-dimension', 'integer', Math.round(widthMm * HUNDREDTHS)),
    attribute('y-dimension', 'integer', Math.round(heightMm * HUNDREDTHS)),
  ]
  const paper =
    media === undefined
      ? attribute('media-col', 'collection', [attribute('media-size', 'collection', size)])
      : attribute('media', 'keyword', media)
  // What the driver scales no longer scans.
  const isScaler = textsIn(answer, 'printer', 'print-scaling-supported').includes('none')
  return [
    attribute('copies', 'integer', 1),
    paper,
    ...(isScaler ? [attribute('print-scaling', 'keyword', 'none')] : []),
  ]
}
