import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { scanGrayBuffer } from '@undecaf/zbar-wasm'
import bwipjs from 'bwip-js/node'
import { describe, expect, test } from 'vitest'
import { layoutCupLabel, layoutPanelTag } from '../../labels/layout.ts'
import { matrixModules } from '../../labels/qrSize.ts'
import { labelBitmap, labelPng } from '../../labels/render.ts'
import { symbolMask } from '../../labels/symbols.ts'
import reference from '../reference/datamatrix.json' with { type: 'json' }
import { boxOf, qrOf } from '../support/labelBoxes.ts'
import { greyOf, isBlack } from '../support/labelImage.ts'
import { readPng } from '../support/labelReader.ts'
import { CLEAR, MADRID, paper } from '../support/labelSamples.ts'

const SIZES = [
  [57, 32],
  [62, 40],
  [102, 152],
] as const
const layouts = ([203, 300] as const).flatMap((dpi) =>
  SIZES.map(([widthMm, heightMm]) => {
    const on = { ...paper(dpi, widthMm, heightMm), symbology: 'datamatrix' as const }
    return layoutCupLabel(CLEAR, on, MADRID)
  }),
)

describe('a Data Matrix', () => {
  // ISO/IEC 16022:2006, figures 1 and O.2.
  test.each(reference.vectors.filter((one) => one.modules))(
    'of $text is that of the standard',
    (vector) => {
      const modules = vector.modules?.length ?? 0
      const item = { kind: 'qr' as const, x: 0, y: 0, version: 0, modules, moduleDots: 1 }
      const mask = symbolMask({ ...item, payload: vector.text, symbology: 'datamatrix' })
      const rows = Array.from({ length: modules }, (_, row) =>
        Array.from({ length: modules }, (_, column) => (mask.isDark(column, row) ? '1' : '0')).join(
          '',
        ),
      )
      expect(rows).toEqual(vector.modules)
    },
  )

  test('has room for as many signs as are said, in the plainest encodation', () => {
    for (const length of [3, 5, 8, 12, 18, 22, 30, 36, 44, 62, 86, 114, 144]) {
      // Signs that no other encodation makes shorter.
      const text = '-z'.repeat(length).slice(0, length)
      const modules = matrixModules(text)
      const [symbol] = bwipjs.raw('datamatrix', text, `version=${modules}x${modules}`)
      expect(symbol && 'pixx' in symbol ? symbol.pixx : 0).toBe(modules)
    }
    expect(() => matrixModules('-'.repeat(145))).toThrow(RangeError)
  })

  test('on every stock at both resolutions is read by a reader that we did not write', async () => {
    for (const layout of layouts) expect(await readPng(labelPng(layout))).toBe(layout.payload)
    const tag = { shopTag: 'K7F', panel: 'R4TPDXYZ', name: 'Rear quarter', job: 'J7K3MABC' }
    const drawn = layoutPanelTag(tag, { ...paper(203), symbology: 'datamatrix' }, 'en')
    expect(await readPng(labelPng(drawn))).toBe(drawn.payload)
  })

  // ISO/IEC 16022 by way of the GS1 General Specifications, 5.4.4: one module on all four sides.
  test('has whole modules of three dots or more, and white around it', () => {
    for (const layout of layouts) {
      const item = qrOf(layout)
      expect(item.moduleDots).toBeGreaterThanOrEqual(3)
      const { left, top, right, bottom } = boxOf(item)
      const bitmap = labelBitmap(layout)
      const white = item.moduleDots
      for (let y = top - white; y < bottom + white; y += 1)
        for (let x = left - white; x < right + white; x += 1) {
          const isOutside = x < left || x >= right || y < top || y >= bottom
          if (isOutside) expect([x, y, isBlack(bitmap, x, y)]).toEqual([x, y, false])
        }
    }
  })

  // Of Debian's package dmtx-utils; CI installs it.
  test.skipIf(Bun.which('dmtxread') === null)(
    'is read by libdmtx',
    () => {
      const folder = mkdtempSync(join(tmpdir(), 'flashbell-dmtx-'))
      try {
        for (const [n, layout] of layouts.entries()) {
          const file = join(folder, `${n}.png`)
          writeFileSync(file, labelPng(layout))
          const { stdout } = Bun.spawnSync(['dmtxread', '-N1', '-m20000', file])
          expect(stdout.toString()).toBe(layout.payload)
        }
      } finally {
        rmSync(folder, { recursive: true, force: true })
      }
    },
    180_000,
  )
})

test('a QR is read by a second reader that we did not write, on every stock at both resolutions', async () => {
  for (const dpi of [203, 300] as const)
    for (const [widthMm, heightMm] of SIZES) {
      const layout = layoutCupLabel(CLEAR, paper(dpi, widthMm, heightMm), MADRID)
      const { width, height, data } = greyOf(labelBitmap(layout))
      const found = await scanGrayBuffer(new Uint8Array(data).buffer, width, height)
      expect(found.map((one) => one.decode())).toEqual([layout.payload])
    }
})
