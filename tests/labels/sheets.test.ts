import { scanGrayBuffer } from '@undecaf/zbar-wasm'
import { describe, expect, test } from 'vitest'
import {
  encodeCommandCode,
  encodePanelCode,
  encodeThingCode,
  PRINTED_COMMANDS,
} from '../../labels/code.ts'
import { layoutTag } from '../../labels/layout.ts'
import { gunTag, panelTag, personBadge, shelfTag } from '../../labels/panelTag.ts'
import { labelPdf } from '../../labels/pdf.ts'
import { labelBitmap, labelPng } from '../../labels/render.ts'
import { barsModules, SHEETS } from '../../labels/sheetCode.ts'
import { type JobSheet, layoutCommandSheet, layoutJobSheet } from '../../labels/sheets.ts'
import { symbolMask } from '../../labels/symbols.ts'
import reference from '../reference/datamatrix.json' with { type: 'json' }
import { boxOf, touching, wordsOf } from '../support/labelBoxes.ts'
import { greyOf } from '../support/labelImage.ts'
import { readAll, readPng } from '../support/labelReader.ts'
import { paper } from '../support/labelSamples.ts'
import { pdfPages } from '../support/pdfReader.ts'

const SHOP = 'K7F'
const panel = (n: number, steps = 6) => ({
  panel: `R4TPDXY${'23456789ABCDEFGH'[n]}`,
  name: `Panel ${n + 1}, left`,
  route: ['prep', 'primer', 'cure', 'base', 'clear', 'polish'].slice(0, steps),
})
const JOB: JobSheet = {
  ...{ shopTag: SHOP, job: 'J7K3MABC', title: 'Delivery van, rear corner', colours: ['WHITE 12'] },
  panels: [0, 1, 2, 3, 4].map((n) => panel(n)),
}
const ON = [203, 300].flatMap((dpi) =>
  Object.entries(SHEETS).flatMap(([name, stock]) =>
    ([undefined, 'datamatrix', 'code128'] as const).map((symbology) => {
      const on = { stock, dpi: dpi as 203 | 300, ...(symbology ? { symbology } : {}) }
      return { name: `${name}, ${dpi} dpi, ${symbology ?? 'qr'}`, on }
    }),
  ),
)
const WANTED = [
  encodeThingCode({ kind: 'job', shopTag: SHOP, id: JOB.job, lot: null }),
  ...JOB.panels.map((one) => encodePanelCode({ shopTag: SHOP, panel: one.panel })),
  ...PRINTED_COMMANDS.map(encodeCommandCode),
].toSorted()

describe('a job sheet', () => {
  test.each(ON)(
    'on $name has every code, read by a reader that we did not write',
    async ({ on }) => {
      const pages = layoutJobSheet(JOB, on, 'en')
      const found: string[] = []
      for (const page of pages) found.push(...(await readAll(greyOf(labelBitmap(page)))))
      expect([...new Set(found)].toSorted()).toEqual(WANTED)
    },
  )

  test('lies within its paper and covers none of its codes, also with many panels and long names', () => {
    const long = {
      ...panel(0),
      name: 'A very long name of a panel '.repeat(4),
      route: [] as string[],
    }
    long.route = Array.from({ length: 60 }, (_, n) => (n % 2 === 0 ? 'single stage' : 'sanding'))
    const job = {
      ...JOB,
      panels: [
        ...JOB.panels,
        ...Array.from({ length: 11 }, (_, n) => ({ ...long, ...panel(n + 5), route: long.route })),
      ],
    }
    for (const { on } of ON) {
      for (const language of ['en', 'es'] as const) {
        for (const page of [
          ...layoutJobSheet(job, on, language),
          ...layoutCommandSheet(on, language),
        ]) {
          expect(touching(page)).toEqual([])
          for (const item of page.items) {
            const { left, top, right, bottom } = boxOf(item)
            expect(Math.min(left, top)).toBeGreaterThanOrEqual(0)
            expect(right).toBeLessThanOrEqual(page.widthDots)
            expect(bottom).toBeLessThanOrEqual(page.heightDots)
          }
        }
      }
    }
  })

  test('names its panels, their ids and their routes', () => {
    const words = layoutJobSheet(JOB, { stock: SHEETS['4x6'], dpi: 203 }, 'en').flatMap(wordsOf)
    for (const { panel: of, name } of JOB.panels) {
      expect(words).toContain(of)
      expect(words).toContain(name.toUpperCase())
    }
    expect(words).toContain('JOB J7K3MABC')
    expect(words.join(' ')).toContain('PREP · PRIMER · CURE · BASE · CLEAR · POLISH')
  })

  test('as a PDF has the same codes on its pages', async () => {
    const pages = layoutJobSheet(JOB, { stock: SHEETS.A4, dpi: 300 }, 'es')
    const found: string[] = []
    for (const { grey } of await pdfPages(labelPdf(pages), 300))
      found.push(...(await readAll(grey)))
    expect([...new Set(found)].toSorted()).toEqual(WANTED)
  })

  test('on a label is refused with the size that it needs', () => {
    expect(() => layoutJobSheet(JOB, paper(203), 'en')).toThrow(/57 x 32 mm.*102 x 152 mm/)
  })
})

/** Bars as the widths of bar, space, bar ... in modules. */
function widthsOf(payload: string): number[] {
  const item = { kind: 'bars' as const, x: 0, y: 0, moduleDots: 1, heightDots: 1, payload }
  const mask = symbolMask({ ...item, modules: barsModules(payload) })
  const widths: number[] = []
  for (let column = 0; column < mask.columns; column += 1) {
    const isSame = column > 0 && mask.isDark(column, 0) === mask.isDark(column - 1, 0)
    if (isSame) widths[widths.length - 1] = (widths.at(-1) ?? 0) + 1
    else widths.push(1)
  }
  return widths
}

/** Each sign is three bars and three spaces; the stop, with a bar more, is left out. */
const signsOf = (payload: string): string[] =>
  widthsOf(payload).slice(0, -7).join('').match(/.{6}/g) ?? []

/** A pair of digits in set C is the sign of that value: each value's bars, by what reads them back. */
const valueByBars = new Map(
  Array.from({ length: 100 }, (_, value) => {
    const pair = String(value).padStart(2, '0')
    return [signsOf(pair + pair)[1] ?? '', value] as const
  }),
)

describe('bars', () => {
  // ISO/IEC 15417 by way of worked examples: the values of the signs, and the check sign among 103.
  test.each(reference.code128.vectors)('of $text have the signs of the examples', (vector) => {
    const signs = signsOf(vector.text)
    const values = signs.slice(1).map((sign) => valueByBars.get(sign))
    // Begun in set B where the example begins in set A: one more, for its start sign is.
    const check = (vector.check + (vector.start.startsWith('A') ? 1 : 0)) % 103
    expect(valueByBars.size).toBe(100)
    expect(values).toEqual([...vector.values, check])
  })

  test('are as wide as the text needs, with white of ten modules on both sides, and read', async () => {
    for (const command of PRINTED_COMMANDS) {
      const payload = encodeCommandCode(command)
      const item = {
        ...{ kind: 'bars' as const, x: 40, y: 8, moduleDots: 2, heightDots: 70, payload },
        modules: barsModules(payload),
      }
      const mask = symbolMask(item)
      expect(mask.columns).toBeLessThanOrEqual(item.modules)
      expect(mask.columns % 11).toBe(2)
      const page = { dpi: 203 as const, widthDots: 600, heightDots: 90, items: [item], payload }
      const { width, height, data } = greyOf(labelBitmap(page))
      const found = await scanGrayBuffer(new Uint8Array(data).buffer, width, height)
      expect(found.map((one) => one.decode())).toEqual([payload])
      expect(await readPng(labelPng(page))).toBe(payload)
    }
  })
})

describe('a tag', () => {
  const tags = {
    panel: panelTag({ shopTag: SHOP, panel: 'R4TPDXYZ', name: 'Rear quarter', job: JOB.job }, 'en'),
    badge: personBadge({ shopTag: SHOP, id: 'ab-1', name: 'Ana Example' }),
    gun: gunTag({ shopTag: SHOP, id: 'gun-1', name: 'Clear gun', needleMm: 1.3 }, 'es'),
    shelf: shelfTag({ shopTag: SHOP, id: 'clear-2k', name: '2K clear', lot: 'B 2231/a' }, 'en'),
    longest: shelfTag(
      { shopTag: SHOP, id: 'x-'.repeat(20), name: 'W'.repeat(80), lot: 'Q9'.repeat(30) },
      'en',
    ),
  }

  test.each(Object.entries(tags))(
    'of a %s is read on every stock at both resolutions',
    async (_, tag) => {
      for (const dpi of [203, 300] as const)
        for (const [widthMm, heightMm] of [
          [57, 32],
          [62, 40],
          [102, 152],
        ] as const)
          for (const symbology of [undefined, 'datamatrix'] as const) {
            const on = { ...paper(dpi, widthMm, heightMm), ...(symbology ? { symbology } : {}) }
            const layout = layoutTag(tag, on)
            expect(touching(layout)).toEqual([])
            expect(await readPng(labelPng(layout))).toBe(tag.payload)
          }
    },
  )

  test('of a badge has the name on it and not in its code', () => {
    expect(wordsOf(layoutTag(tags.badge, paper(203)))).toContain('ANA EXAMPLE')
    expect(tags.badge.payload).not.toContain('ANA')
  })
})

test('a long lot on a shelf tag goes on in another line before any of it is left out, and is cut last', () => {
  const of = { shopTag: SHOP, id: 'clear-1', name: 'Clear' }
  const lot = 'BATCH-2026-11-25/A-0042-77'
  const [long, longest] = [lot, 'W'.repeat(60)].map((given) =>
    layoutTag(shelfTag({ ...of, lot: given }, 'en'), paper(203)),
  )
  if (!long || !longest) throw new Error('no tag')
  expect(wordsOf(long).join('').replaceAll(' ', '')).toContain(lot)
  for (const layout of [long, longest]) {
    expect(touching(layout)).toEqual([])
    for (const item of layout.items)
      if (item.kind === 'text')
        expect((item.capDots * 25.4) / layout.dpi).toBeGreaterThanOrEqual(1.75)
    for (const box of layout.items.map(boxOf)) {
      expect(box.right).toBeLessThanOrEqual(layout.widthDots)
      expect(box.bottom).toBeLessThanOrEqual(layout.heightDots)
    }
  }
})
