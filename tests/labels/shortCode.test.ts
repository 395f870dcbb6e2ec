import bwipjs from 'bwip-js/node'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  checksum,
  encodePanelCode,
  encodeThingCode,
  isSealed,
  readCode,
} from '../../labels/code.ts'
import { layoutCodeTile } from '../../labels/codeTile.ts'
import { en } from '../../machines/words/en.ts'
import { es } from '../../machines/words/es.ts'
import { qrOf } from '../support/labelBoxes.ts'
import { OURS, oldJobCode, oldPanelCode, problemOf, read, textOf } from '../support/labelCodes.ts'
import { id } from '../support/labelSamples.ts'

/** Codes of panels and jobs: fields of one length each and no separators, so that the smallest QR holds them. */

const panel = { shopTag: OURS.shopTag, panel: 'R4TPDXYZ' }
const job = { kind: 'job' as const, shopTag: OURS.shopTag, id: 'J7K3MABC', lot: null }
const PANEL_CODE = encodePanelCode(panel)
const JOB_CODE = encodeThingCode(job)
const BOTH = [PANEL_CODE, JOB_CODE]

describe('the code of a panel or a job', () => {
  test('fits the smallest QR at error correction Q, whatever its ids', () => {
    fc.assert(
      fc.property(id(3), id(8), (shopTag, name) => {
        for (const text of [
          encodePanelCode({ shopTag, panel: name }),
          encodeThingCode({ ...job, shopTag, id: name }),
        ]) {
          const { version, level, modules } = qrOf(layoutCodeTile(text, 203))
          expect({ version, level, modules }).toEqual({ version: 1, level: 'Q', modules: 21 })
          // A general barcode library makes it at that size and level, or throws.
          expect(bwipjs.raw('qrcode', text, 'version=1 eclevel=Q')).toHaveLength(1)
        }
      }),
      { numRuns: 50 },
    )
  })

  test('reads back as that thing, as a wedge scanner or a phone writes it', () => {
    for (const text of BOTH)
      for (const written of [
        text,
        text.toLowerCase(),
        ` ${text} `,
        `HTTP://KIOSK.LAN:4600/S/${text}`,
      ])
        expect(read(written)).toEqual(text === PANEL_CODE ? { kind: 'panel', ...panel } : job)
    // What a slow scanner types is known for a code by its checksum.
    expect(BOTH.map(isSealed)).toEqual([true, true])
  })

  test('as printed on older tags and sheets is read for good', () => {
    // What an earlier build printed, to the letter.
    expect(oldPanelCode('K7F', 'R4TPDXYZ')).toBe('P1-K7F-R4TPDXYZ-MZ')
    expect(oldJobCode('K7F', 'J7K3MABC')).toBe('J1-K7F-J7K3MABC-0A')
    expect(PANEL_CODE).toBe('P2K7FR4TPDXYZ63')
    fc.assert(
      fc.property(id(3), id(8), (shopTag, name) => {
        const here = { ...OURS, shopTag }
        expect(readCode(oldPanelCode(shopTag, name), here)).toEqual({
          ...{ kind: 'panel', shopTag, panel: name },
        })
        expect(readCode(oldJobCode(shopTag, name), here)).toEqual({ ...job, shopTag, id: name })
      }),
    )
    for (const old of [oldPanelCode('K7F', 'R4TPDXYZ'), oldJobCode('K7F', 'J7K3MABC')]) {
      expect(isSealed(old)).toBe(true)
      expect(problemOf(readCode(old, { ...OURS, shopTag: 'ZZZ' })).code).toBe('otherShop')
    }
  })

  test('with any sign wrong, or any two neighbors swapped, is no label', () => {
    for (const text of BOTH)
      for (let at = 0; at < text.length; at += 1) {
        for (const sign of '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-.') {
          const wrong = text.slice(0, at) + sign + text.slice(at + 1)
          if (wrong !== text) expect([wrong, read(wrong).kind]).toEqual([wrong, 'problem'])
        }
        const [a = '', b = ''] = text.slice(at, at + 2)
        const swapped = text.slice(0, at) + b + a + text.slice(at + 2)
        if (b !== '' && a !== b) expect([swapped, read(swapped).kind]).toEqual([swapped, 'problem'])
      }
    // The last sign of the body beside the first check digit, whatever they are.
    fc.assert(
      fc.property(id(8), (name) => {
        const text = encodePanelCode({ ...panel, panel: name })
        const swapped = `${text.slice(0, 12)}${text[13]}${text[12]}${text[14]}`
        if (swapped !== text) expect(read(swapped).kind).toBe('problem')
      }),
    )
  })

  test('cut short or with a sign too many is no label', () => {
    for (const text of BOTH) {
      for (let length = 9; length < text.length; length += 1)
        expect(read(text.slice(0, length)).kind).toBe('problem')
      expect(read(`${text}A`).kind).toBe('problem')
      expect(read(text + text).kind).toBe('problem')
    }
  })

  test('misread says so; the same form of somebody else’s code is not called ours', () => {
    expect(problemOf(read('P2K7FR4TPDXYZ00')).code).toBe('checksum')
    expect(problemOf(read('P7K7FR4TPDXYZ00')).code).toBe('notOurs')
    expect(problemOf(read('A1B2C3D4E5F6G7H')).code).toBe('notOurs')
    // The separators of an older tag left out by hand.
    expect(problemOf(read('P1K7FR4TPDXYZMZ')).code).toBe('notOurs')
    // Rightly sealed, with signs that no id has.
    const garbled = 'P2K7FR4TPDX00'
    expect(problemOf(read(garbled + checksum(garbled))).code).toBe('garbled')
  })

  test('of a later version shows its fields and asks for an update', () => {
    const body = 'P3K7FR4TPDXYZ'
    const later = problemOf(read(body + checksum(body)))
    expect(later).toMatchObject({
      code: 'unknownSchema',
      names: ['P3', `K7F R4TPDXYZ ${checksum(body)}`],
    })
    expect(textOf(later)).toContain('version (P3)')
    expect(textOf(later)).toContain('K7F R4TPDXYZ')
  })

  test('of another shop says so, with what it reads as', () => {
    const there = { ...OURS, shopTag: 'ZZZ' }
    expect(problemOf(readCode(PANEL_CODE, there))).toMatchObject({
      code: 'otherShop',
      says: { kind: 'panel', panel: 'R4TPDXYZ' },
    })
    expect(problemOf(readCode(JOB_CODE, there))).toMatchObject({
      code: 'otherShop',
      says: { kind: 'job', id: 'J7K3MABC' },
    })
  })

  // What a US scanner's 2 gives under a French and a Czech layout: common knowledge of keyboards, no source.
  test.each(['é', 'ě'])('typed with %s for its digit gets a hint about the keyboard', (sign) => {
    for (const text of BOTH) {
      const slip = problemOf(read(text.replaceAll('2', sign).toLowerCase()))
      expect(slip).toMatchObject({ code: 'keyboardLayout', names: [sign, '2'] })
      expect(en.labels.keyboardLayout(...slip.names)).toContain(
        `types ${sign} where the label has a 2`,
      )
      expect(es.labels.keyboardLayout(...slip.names)).toContain('2')
    }
  })
})
