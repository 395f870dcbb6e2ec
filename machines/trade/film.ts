import * as v from 'valibot'
import { above0, fields, number } from '../accept.ts'
import { calculator, crossChecked, type Wrong } from './calculator.ts'

/** The share that reaches the panel: HVLP as South Coast AQMD takes it. */
export const TRANSFER = 0.65

/** A share that something is divided by: below a thousandth it is a slip, not a product. */
const share = number(0.001, 1, 'fraction')
const solids = share
const filmUm = number(0.1, 10_000, 'µm')

/**
 * How much to mix for a number of coats. In: m², coats (halves are allowed), dry µm a coat, solids by
 * volume ready to spray and transfer efficiency as fractions, mL lost in cup, gun and hose. Out: mL.
 */
export const quantity = calculator({
  name: 'quantity',
  schema: fields({
    areaM2: above0(1000, 'm²'),
    coats: above0(50, 'coats'),
    dryUmPerCoat: filmUm,
    solids,
    transfer: share,
    lossMl: v.optional(number(0, 100_000, 'mL')),
  }),
  about: {
    formula: 'mL = m² × coats × dry µm / (solids × transfer) + loss',
    units:
      'm², µm, mL; solids by volume, ready to spray, and transfer as fractions (1 µm over 1 m² is 1 mL)',
    source:
      'volume balance; transfer efficiency as South Coast AQMD defines it (solids on the object / solids used). HVLP is taken as 0.65 there; 40 CFR 60 Subpart EE lists 0.25 for air-atomized; 0.2 to 0.5 is measured on small parts',
    caution:
      'An estimate, ±30 %: area and transfer are seldom known better. A film within the sheet’s limits matters more than saving material.',
  },
  run: ({ areaM2, coats, dryUmPerCoat, solids, transfer, lossMl }) => ({
    volumeMl: (areaM2 * coats * dryUmPerCoat) / (solids * transfer) + (lossMl ?? 0),
  }),
})

type Film = { readonly wetUm?: number | undefined; readonly dryUm?: number | undefined }

function oneFilm({ wetUm, dryUm }: Film): Wrong | null {
  if (wetUm === undefined && dryUm === undefined) {
    return { path: ['wetUm'], code: 'oneFilm', params: {} }
  }
  if (wetUm === undefined || dryUm === undefined) return null
  return { path: ['dryUm'], code: 'filmAlone', params: {} }
}

/**
 * Wet film, dry film and spread of one material. In: wet or dry µm, solids by volume of the
 * unthinned material, thinner in per cent of it. Out: both films in µm, m² a liter of the thinned
 * material covers without loss.
 */
export const film = calculator({
  name: 'film',
  schema: crossChecked(
    fields({
      wetUm: v.optional(filmUm),
      dryUm: v.optional(filmUm),
      solids,
      thinnerPct: v.optional(number(0, 1000, '%')),
    }),
    oneFilm,
  ),
  about: {
    formula: 'dry = wet × solids / (1 + thinner/100); spread = 1000 / wet',
    units:
      'µm; solids by volume as a fraction; thinner in % of the unthinned volume; m² per liter thinned',
    source:
      'UFC 3-190-06 §2.1.5 (dry = wet × solids); the thinned form as engineering notes give it after SSPC-PA 2 practice',
    caution: 'Without loss: what reaches the panel is the transfer efficiency’s share of it.',
  },
  run: ({ wetUm, dryUm, solids, thinnerPct }) => {
    const dryPerWet = solids / (1 + (thinnerPct ?? 0) / 100)
    const wet = wetUm ?? (dryUm as number) / dryPerWet
    return { wetUm: wet, dryUm: dryUm ?? wet * dryPerWet, spreadM2PerL: 1000 / wet }
  },
})
