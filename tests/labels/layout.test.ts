import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readCode } from '../../labels/code.ts'
import {
  type CupLabel,
  cupCodeWidthMm,
  hazardOf,
  type LabelLayout,
  layoutCupLabel,
  layoutPanelTag,
  STOCKS,
  stockSchema,
  symbolWidthMm,
  tooSmallFor,
} from '../../labels/layout.ts'
import { check } from '../../machines/accept.ts'
import { boxOf, qrOf, said, textsOf, touching } from '../support/labelBoxes.ts'
import {
  anyLabel,
  anyPaper,
  anyStyle,
  BASE,
  CHICAGO,
  CLEAR,
  days,
  id,
  MADRID,
  MIXED_AT_MS,
  minutes,
  paper,
} from '../support/labelSamples.ts'
import { saidWrong } from '../support/said.ts'

const clear = (change: Partial<CupLabel> = {}, style = MADRID) =>
  layoutCupLabel({ ...CLEAR, ...change }, paper(203), style)
const base = (change: Partial<CupLabel> = {}, style = MADRID) =>
  layoutCupLabel({ ...BASE, ...change }, paper(203), style)

const SITE = 'http://flashbell.lan:4600'

/** The largest text first. */
/** The ratio that the code says: one over 16 signs is on the sheet. */
const carried = ({ ratio }: CupLabel) => (ratio.length > 16 ? null : ratio)
const bySize = (layout: LabelLayout) => textsOf(layout).toSorted((a, b) => b.capDots - a.capDots)
const mm = (dots: number, dpi: number) => (dots * 25.4) / dpi
const capMm = (layout: LabelLayout, text: string) => {
  const item = textsOf(layout).find((one) => one.text === text)
  return item ? mm(item.capDots, layout.dpi) : 0
}

describe('what a cup’s label says', () => {
  test('the van clear says all of it', () => {
    const text = said(clear())
    for (const part of [
      'USE BY',
      '15:50',
      'WED',
      'MIXED 15:05',
      '2K CLEAR, 2:1, SLOW',
      '2:1:0.5',
      'VOL',
    ]) {
      expect(text).toContain(part)
    }
    for (const part of ['K7F3QABC', '410 mL', '45 MIN AT 22 °C', 'J7K3MABC', 'BY AB', 'DANGER']) {
      expect(text).toContain(part)
    }
    expect(text).not.toContain('COPY')
  })

  test('the time it ends is the largest, a clock time with its day', () => {
    const [largest, next] = bySize(clear())
    expect(largest?.text).toBe('15:50')
    expect(next?.text).toBe('WED')
    expect(bySize(clear({}, CHICAGO))[0]?.text).toBe('8:50')
    expect(said(clear({}, CHICAGO))).toContain('AM WED')
  })

  test('past midnight both days are named', () => {
    const text = said(
      clear({ mixedAtMs: MIXED_AT_MS + minutes(530), useByMs: MIXED_AT_MS + minutes(575) }),
    )
    expect(text).toContain('MIXED 23:55 WED')
    expect(text).toMatch(/00:40 THU|THU.*00:40/)
  })

  test('a week ahead the date is printed with the day', () => {
    const text = said(clear({ useByMs: MIXED_AT_MS + days(6) }))
    expect(text).toContain('TUE')
    expect(text).toContain('1 DEC')
  })

  test('in the hour that comes twice the zone is named', () => {
    const end = Date.UTC(2026, 10, 1, 6, 30)
    expect(said(clear({ mixedAtMs: end - minutes(45), useByMs: end }, CHICAGO))).toContain('CDT')
  })

  test('without pot life: keep until, no pot life, stir', () => {
    const layout = base()
    const text = said(layout)
    expect(text).toContain('KEEP UNTIL')
    expect(bySize(layout)[0]?.text).toBe('23 FEB')
    expect(text).toContain('2027')
    expect(text).toContain('NO POT-LIFE LIMIT')
    expect(text).toContain('STOCK · STIR')
    expect(text).not.toContain('USE BY')
  })

  test('without a keep date either: no pot life, stir', () => {
    const layout = base({ keepUntilMs: null })
    expect(said(layout)).toContain('NO POT-LIFE LIMIT')
    expect(said(layout)).toContain('MIXED 25 NOV')
    expect(bySize(layout)[0]?.text).toBe('STIR')
  })

  test('of a cup that was poured from others names them, instead of the panel', () => {
    const poured = said(clear({ parents: ['BCDFGH23', 'JKMNPQ45'] }))
    expect(poured).toContain('FROM BCD+JKM')
    expect(poured).not.toContain('REAR')
    expect(said(clear())).toContain('REAR')
  })

  test('in Spanish', () => {
    const style = { ...MADRID, language: 'es' as const }
    expect(said(clear({}, style))).toMatch(/USAR HASTA.*15:50.*MIÉ/)
    expect(said(base({}, style))).toMatch(/GUARDAR HASTA.*23 FEB/)
    expect(said(base({}, style))).toContain('SIN LÍMITE DE USO')
    expect(said(base({}, style))).toContain('EXISTENCIAS · AGITAR')
    expect(said(clear({}, style))).toContain('PELIGRO')
  })

  test('in the shop’s units', () => {
    const text = said(clear({}, CHICAGO))
    expect(text).toContain('13.85 FL OZ')
    expect(text).toContain('AT 72 °F')
    expect(said(clear({ totalMl: 1_233 }))).toContain('1235 mL')
    expect(said(clear({ potBasisC: 21.4 }))).toContain('AT 21.5 °C')
    expect(said(clear({ by: 'mass' }))).toContain('WEIGHT')
  })

  test('a reprint says COPY n and changes no time', () => {
    const first = clear()
    const copy = clear({ copy: 2 })
    expect(said(copy)).toContain('COPY 2')
    expect(copy.payload).toBe(first.payload)
    expect(bySize(copy)[0]?.text).toBe(bySize(first)[0]?.text)
  })

  test('a sign that the font lacks becomes a question mark, a long name ends in an ellipsis', () => {
    const text = said(
      clear({ product: '塗 clear', panel: 'Rear quarter panel left with wheel arch and sill' }),
    )
    expect(text).toContain('? CLEAR')
    expect(text).toMatch(/REAR Q[A-Z ]*…/)
  })
})

describe('whatever is printed', () => {
  test('nothing touches anything, the code keeps its white, the margins stay empty', () => {
    fc.assert(
      fc.property(anyLabel, anyPaper, anyStyle, (label, on, style) => {
        const layout = layoutCupLabel(label, on, style)
        expect(touching(layout)).toEqual([])
        const margin = (2 * on.dpi) / 25.4
        for (const box of layout.items.map(boxOf)) {
          expect(box.left).toBeGreaterThanOrEqual(margin)
          expect(box.top).toBeGreaterThanOrEqual(margin)
          expect(box.right).toBeLessThanOrEqual(layout.widthDots - margin)
          expect(box.bottom).toBeLessThanOrEqual(layout.heightDots - margin)
        }
      }),
      { numRuns: 300 },
    )
  })

  test('everything lies on whole dots', () => {
    fc.assert(
      fc.property(anyLabel, anyPaper, anyStyle, (label, on, style) => {
        for (const item of layoutCupLabel(label, on, style).items) {
          const numbers = Object.values(item).filter((value) => typeof value === 'number')
          expect(numbers.every(Number.isInteger)).toBe(true)
        }
      }),
    )
  })

  test('no text is under its least height, and no module under its floor', () => {
    fc.assert(
      fc.property(anyLabel, anyPaper, anyStyle, (label, on, style) => {
        const layout = layoutCupLabel(label, on, style)
        const sizes = textsOf(layout).map((item) => mm(item.capDots, on.dpi))
        expect(Math.min(...sizes)).toBeGreaterThanOrEqual(1.75)
        expect(Math.max(...sizes)).toBeGreaterThanOrEqual(5)
        expect(capMm(layout, label.cup)).toBeGreaterThanOrEqual(3)
        // A product may be called what its ratio is: one of the two is the ratio.
        const ratios = textsOf(layout).filter((item) => item.text === label.ratio)
        const highest = Math.max(...ratios.map((item) => mm(item.capDots, on.dpi)))
        if (ratios.length > 0) expect(highest).toBeGreaterThanOrEqual(3)
        expect(qrOf(layout).moduleDots).toBeGreaterThanOrEqual(3)
        expect(mm(qrOf(layout).moduleDots, on.dpi)).toBeGreaterThanOrEqual(0.33)
      }),
    )
  })

  test('the usual labels keep half a millimeter a module and a ratio that is whole', () => {
    for (const label of [CLEAR, BASE, { ...CLEAR, panel: '', hazard: hazardOf(undefined) }]) {
      const layout = layoutCupLabel(label, paper(203), MADRID)
      expect(qrOf(layout).moduleDots).toBe(4)
      expect(said(layout)).toContain(label.ratio)
    }
  })

  test('the code of the label is that of the cup', () => {
    fc.assert(
      fc.property(anyLabel, anyPaper, anyStyle, (label, on, style) => {
        const layout = layoutCupLabel(label, on, style)
        const read = readCode(layout.payload, { shopTag: label.shopTag, nowMs: label.mixedAtMs })
        expect(read).toMatchObject({ kind: 'cup', cup: label.cup, ratio: carried(label) })
        expect(qrOf(layout).payload).toBe(layout.payload)
      }),
    )
  })
})

describe('stock', () => {
  test('the kept sizes and any larger one are taken, smaller ones are refused by name', () => {
    for (const stock of Object.values(STOCKS)) expect(check(stockSchema, stock).ok).toBe(true)
    const small = check(stockSchema, { widthMm: 40, heightMm: 32 })
    expect(small.ok ? '' : saidWrong(small.error).message).toContain(
      "widthMm: 40 won't work. Use a number from 57",
    )
    expect(() => layoutCupLabel(CLEAR, paper(203, 40, 20), MADRID)).toThrow(
      /^stock: 40 x 20 mm is too small/,
    )
  })

  test('a code wider than a quarter of the smallest cup is warned of', () => {
    const layout = clear()
    const widthMm = mm(29 * 4, 203)
    expect(symbolWidthMm(layout)).toBe(widthMm)
    expect(tooSmallFor(widthMm, [4 * widthMm])).toBeNull()
    expect(tooSmallFor(widthMm, [90, 60, 120])).toBeNull()
    expect(tooSmallFor(widthMm, [90, 50, 120])).toBe(50)
    expect(tooSmallFor(widthMm, [])).toBeNull()
  })

  test('what a stock is judged by before anything is printed is never narrower than what comes out', () => {
    const codes = fc.constantFrom({}, { symbology: 'datamatrix' as const }, { site: SITE })
    fc.assert(
      fc.property(anyLabel, anyPaper, anyStyle, codes, (label, on, style, code) => {
        const paper = { ...on, ...code }
        const layout = layoutCupLabel({ ...label, ratio: '4:1:0.5' }, paper, style)
        const isCut = 'site' in code && !layout.payload.startsWith('HTTP')
        const wide = cupCodeWidthMm(isCut ? on : paper)
        expect(symbolWidthMm(layout)).toBeLessThanOrEqual(wide)
      }),
    )
    // ISO/IEC 18004: version 3 has 29 modules; half a millimeter is 4 dots at 203 dpi.
    expect(cupCodeWidthMm({ dpi: 203 })).toBe(mm(29 * 4, 203))
  })
})

describe('a panel’s tag', () => {
  test('names the panel and job, and touches nothing', () => {
    const names = fc.string({ maxLength: 60, unit: 'grapheme' })
    fc.assert(
      fc.property(id(8), names, names, anyPaper, (panel, name, title, on) => {
        const tag = { shopTag: 'K7F', panel, name, title, job: 'J7K3MABC' }
        const layout = layoutPanelTag(tag, on, 'en')
        expect(said(layout)).toContain('JOB J7K3MABC')
        expect(capMm(layout, panel)).toBeGreaterThanOrEqual(3)
        expect(touching(layout)).toEqual([])
        expect(readCode(layout.payload, { shopTag: 'K7F', nowMs: 0 })).toMatchObject({ panel })
        for (const box of layout.items.map(boxOf)) {
          expect(box.right).toBeLessThanOrEqual(layout.widthDots - (2 * on.dpi) / 25.4)
        }
      }),
    )
  })
})
