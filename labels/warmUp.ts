import { type CupLabel, type LabelStyle, layoutCupLabel } from './layout.ts'
import { STOCKS } from './stock.ts'

/** A label as most are: an activated clear of a job, with everything that a label can have. Nobody sees it. */
const LABEL: CupLabel = {
  ...{ shopTag: 'ABC', cup: '22222222', job: '33333333', panel: 'Quarter panel, left' },
  ...{ product: 'CLEAR 0123456789', colourCode: 'WHITE 12', stage: 'clear', mixedBy: 'AB' },
  ...{ hasActivator: true, ratio: '2:1:0.5', by: 'volume', totalMl: 410, copy: 1 },
  ...{ mixedAtMs: Date.UTC(2026, 0, 5, 14, 5), useByMs: Date.UTC(2026, 0, 5, 16, 50) },
  ...{ keepUntilMs: null, potBasisC: 22.5 },
  hazard: {
    ...{ signal: 'danger', isocyanate: true, words: ['Flammable'] },
    pictograms: ['flame', 'exclamation', 'healthHazard'],
  },
}
const LABEL_STYLE: LabelStyle = {
  ...{ language: 'en', timeZone: 'UTC', clock: '24h', temperature: 'C', volume: 'mL' },
}
/** The engine compiles what has run a few times. */
const DRAWINGS = 4

/**
 * Loads what draws labels and draws some that nobody sees: the libraries and fonts take longer than a painter at the
 * mixing bench should wait. Each step is some tens of milliseconds, so that others can have their turn between.
 * @returns after the last one a label as PNG
 * @throws where a library or font is missing
 */
export async function* warmUp(): AsyncGenerator<void, Uint8Array> {
  yield void (await import('bwip-js/node'))
  yield void (await import('@resvg/resvg-js'))
  yield void (await import('opentype.js'))
  const { outlineOf } = await import('./outlines.ts')
  yield void outlineOf('A', 20)
  const { labelPng, labelSvg } = await import('./render.ts')
  yield
  const paper = { stock: STOCKS['57x32'], dpi: 203 } as const
  // Item by item at first: the first of a kind takes as long as some whole labels later.
  const first = layoutCupLabel(LABEL, paper, LABEL_STYLE)
  yield
  for (const item of first.items) {
    labelSvg({ ...first, items: [item] })
    yield
    labelPng({ ...first, items: [item] })
    yield
  }
  for (let n = 1; ; n += 1) {
    // Another cup is another code.
    const layout = layoutCupLabel({ ...LABEL, cup: `2222222${n + 1}` }, paper, LABEL_STYLE)
    yield
    labelSvg(layout)
    yield
    const png = labelPng(layout)
    if (n === DRAWINGS) return png
    yield
  }
}
