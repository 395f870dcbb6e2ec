import bwipjs from 'bwip-js/node'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type LabelLayout, layoutCupLabel, layoutPanelTag } from '../../labels/layout.ts'
import { qrSize } from '../../labels/qrSize.ts'
import { labelBitmap, labelPng } from '../../labels/render.ts'
import { qrOf } from '../support/labelBoxes.ts'
import {
  blurred,
  dropped,
  type Grey,
  greyOf,
  onCup,
  PIXEL_MM,
  type Random,
  randomOf,
  spoiled,
  turned,
} from '../support/labelImage.ts'
import { readGrey, readPng } from '../support/labelReader.ts'
import {
  anyLabel,
  anyPaper,
  anyStyle,
  BASE,
  CHICAGO,
  CLEAR,
  MADRID,
  paper,
} from '../support/labelSamples.ts'

const clear = (dpi: 203 | 300) => layoutCupLabel(CLEAR, paper(dpi), MADRID)

describe('the size of the code', () => {
  // ISO/IEC 18004's capacities (from memory) against the symbols of a general barcode library.
  test('each version holds what is said, and not one sign more', () => {
    const fits = (length: number, version: number, level: string) => {
      try {
        bwipjs.raw('qrcode', 'K'.repeat(length), `eclevel=${level} version=${version}`)
        return true
      } catch {
        return false
      }
    }
    const held = { M: [20, 38, 61, 90, 122, 154], Q: [16, 29, 47, 67, 87, 108] } as const
    for (const least of ['M', 'Q'] as const)
      for (const [i, most] of held[least].entries()) {
        const version = i + 1
        const found = qrSize('K'.repeat(most), least)
        expect(found).toMatchObject({ version, modules: 17 + 4 * version })
        expect([
          ...[version, fits(most, version, found.level)],
          fits(most + 1, version, least),
        ]).toEqual([version, true, false])
      }
    // As much error correction as its size holds, at any length.
    for (let length = 1; length <= 154; length += 1)
      for (const least of ['M', 'Q'] as const) {
        const { version, level } = qrSize('K'.repeat(length), least)
        const better = { M: 'Q', Q: 'H', H: null }[level]
        expect([length, level, fits(length, version, level)]).toEqual([length, level, true])
        if (better) expect([length, fits(length, version, better)]).toEqual([length, false])
      }
    expect(() => qrSize('K'.repeat(155))).toThrow(RangeError)
  })
})

describe('a reader that we did not write reads the printed label', () => {
  test('whatever it says, on any stock', async () => {
    await fc.assert(
      fc.asyncProperty(anyLabel, anyPaper, anyStyle, async (label, on, style) => {
        const layout = layoutCupLabel(label, on, style)
        expect(await readPng(labelPng(layout))).toBe(layout.payload)
      }),
      { numRuns: 25 },
    )
  })

  test('a panel’s tag', async () => {
    for (const dpi of [203, 300] as const) {
      const tag = { shopTag: 'K7F', panel: 'R4TPDXYZ', name: 'Rear quarter, left', job: 'J7K3MABC' }
      const layout = layoutPanelTag(tag, paper(dpi), 'en')
      expect(await readPng(labelPng(layout))).toBe('P2K7FR4TPDXYZ63')
    }
  })

  test.each([90, 180, 270, 3, -7, 45])('turned by %i degrees', async (degrees) => {
    for (const layout of [clear(203), clear(300), layoutCupLabel(BASE, paper(203), MADRID)]) {
      expect(await readGrey(turned(greyOf(labelBitmap(layout)), degrees))).toBe(layout.payload)
    }
  })

  test('blurred by a module', async () => {
    for (const dpi of [203, 300] as const) {
      const layout = clear(dpi)
      const blur = blurred(greyOf(labelBitmap(layout)), qrOf(layout).moduleDots)
      expect(await readGrey(blur)).toBe(layout.payload)
    }
  })
})

/** One scan is up to three pictures: half a second of a camera at 6 a second, the hand moving a little. */
const PICTURES = 3
const SCANS = 40

/** How many of SCANS are read of a label on a 60 mm cup, tilted, turned and out of focus by a module. */
async function scansRead(layout: LabelLayout, spoil: (image: Grey) => Grey, random: Random) {
  const qr = qrOf(layout)
  const side = qr.modules * qr.moduleDots
  const dotMm = 25.4 / layout.dpi
  const within = (degrees: number) => (2 * random() - 1) * degrees
  const clean = greyOf(labelBitmap(layout))
  let read = 0
  for (let scan = 0; scan < SCANS; scan += 1) {
    const label = spoil(clean)
    const pose = { turn: within(13), tilt: within(13), roll: within(13) }
    for (let picture = 0; picture < PICTURES; picture += 1) {
      const seen = onCup(label, {
        dotMm,
        centre: { x: qr.x + side / 2 + within(1), y: qr.y + side / 2 + within(1) },
        cupMm: 60,
        turn: pose.turn + within(2),
        tilt: pose.tilt + within(2),
        roll: pose.roll + within(2),
      })
      const blur = blurred(seen, (qr.moduleDots * dotMm) / PIXEL_MM)
      if ((await readGrey(blur)) !== layout.payload) continue
      read += 1
      break
    }
  }
  return read
}

/**
 * Wrapped on 60 mm, up to 15 degrees off each way, a tenth of the code's dots spoiled, blurred by a
 * module: 95 of 100 are read. The seed is printed; FLASHBELL_SEED repeats a run.
 */
describe('on a cup, spoiled and out of focus', { timeout: 600_000 }, () => {
  const seed = Number(process.env.FLASHBELL_SEED ?? Date.now() % 1_000_000)
  const least = Math.ceil(0.95 * SCANS)

  test.each([203, 300] as const)('at %i dpi with a tenth of the dots spoiled', async (dpi) => {
    const layout = clear(dpi)
    const random = randomOf(seed)
    const read = await scansRead(
      layout,
      (image) => spoiled(image, qrOf(layout), 0.1, random),
      random,
    )
    console.info(`${dpi} dpi, a tenth spoiled: ${read} of ${SCANS} read, seed ${seed}`)
    expect([`seed ${seed}`, read >= least]).toEqual([`seed ${seed}`, true])
  })

  test('at 203 dpi under a drop of paint that leaves its three corners clear', async () => {
    const layout = clear(203)
    const random = randomOf(seed)
    const read = await scansRead(
      layout,
      (image) => dropped(image, qrOf(layout), 0.03, random),
      random,
    )
    console.info(`203 dpi, a drop over 3 %: ${read} of ${SCANS} read, seed ${seed}`)
    expect([`seed ${seed}`, read >= least]).toEqual([`seed ${seed}`, true])
  })

  test('with the smallest module and nothing spoiled', async () => {
    const full = { ...CLEAR, ratio: '4:1:0.5:0.05', cup: 'WMWQ7MWM', colourCode: 'LY7W' }
    const layout = layoutCupLabel(full, paper(203), CHICAGO)
    expect(qrOf(layout).moduleDots).toBe(3)
    const read = await scansRead(layout, (image) => image, randomOf(seed))
    console.info(`203 dpi, 3 dots a module: ${read} of ${SCANS} read, seed ${seed}`)
    expect([`seed ${seed}`, read >= least]).toEqual([`seed ${seed}`, true])
  })
})
