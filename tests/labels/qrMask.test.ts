import bwipjs from 'bwip-js/node'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { layoutCodeTile } from '../../labels/codeTile.ts'
import type { LabelLayout } from '../../labels/layout.ts'
import { likeness } from '../../labels/qrMask.ts'
import { symbolMask } from '../../labels/symbols.ts'
import { ID_ALPHABET } from '../../machines/accept.ts'
import { missedBy } from '../support/damageSamples.ts'
import { qrOf } from '../support/labelBoxes.ts'
import { type Code, codeOf, damaged, NOMINAL } from '../support/labelDamage.ts'
import { randomOf } from '../support/labelImage.ts'

/** ISO/IEC 18004, table E.1: of versions 2 to 6, the one alignment pattern that lies in no finder. */
const MIDDLE = { 2: 18, 3: 22, 4: 26, 5: 30, 6: 34 } as const
const PATTERN = ['#####', '#   #', '# # #', '#   #', '#####']
const SIGNS = { 2: 20, 3: 40, 4: 60, 5: 80, 6: 100 } as const

const isLong = Boolean(process.env.FLASHBELL_LONG)

test.each([2, 3, 4, 5, 6] as const)(
  'version %i has its alignment pattern where it is looked at',
  (version) => {
    const layout = layoutCodeTile('A'.repeat(SIGNS[version]), 203)
    const qr = qrOf(layout)
    expect(qr.version).toBe(version)
    const { isDark } = symbolMask(qr)
    const row = (y: number) =>
      [-2, -1, 0, 1, 2].map((x) => (isDark(MIDDLE[version] + x, MIDDLE[version] + y) ? '#' : ' '))
    expect([-2, -1, 0, 1, 2].map((y) => row(y).join(''))).toEqual(PATTERN)
    // White all around, nothing comes to look like it; a second one four modules away does.
    const alone = (x: number, y: number) =>
      PATTERN[y - MIDDLE[version] + 2]?.[x - MIDDLE[version] + 2] === '#'
    const few = likeness(qr.modules, alone)
    expect(likeness(qr.modules, (x, y) => alone(x, y) || alone(x + 4, y))).toBeGreaterThan(few)
  },
)

/** Pixels of a code by the library: with one mask, or with the one that the standard's penalties choose. */
function pixelsOf(layout: LabelLayout, mask: number | null): readonly number[] {
  const { payload, version, level = 'M' } = qrOf(layout)
  const masked = mask === null ? '' : ` mask=${mask}`
  const [symbol] = bwipjs.raw('qrcode', payload, `version=${version} eclevel=${level}${masked}`)
  return symbol && 'pixs' in symbol ? symbol.pixs : []
}

test('of the eight masks one with the least likeness is printed, the same one each time', () => {
  fc.assert(
    fc.property(
      fc.string({ unit: fc.constantFrom(...ID_ALPHABET), minLength: 20, maxLength: 60 }),
      (text) => {
        const layout = layoutCodeTile(text, 203)
        const { modules } = qrOf(layout)
        const drawn = () => {
          const { isDark } = symbolMask(qrOf(layout))
          return Array.from({ length: modules ** 2 }, (_, n) =>
            isDark(n % modules, Math.floor(n / modules)) ? 1 : 0,
          )
        }
        const like = (pixels: readonly number[]) =>
          likeness(modules, (x, y) => pixels[y * modules + x] === 1)
        const all = [1, 2, 3, 4, 5, 6, 7, 8].map((mask) => pixelsOf(layout, mask))
        expect(all.map((one) => one.join(''))).toContain(drawn().join(''))
        expect(like(drawn())).toBe(Math.min(...all.map(like)))
        expect(drawn()).toEqual(drawn())
      },
    ),
    { numRuns: isLong ? 200 : 20 },
  )
})

/** The same tile with other pixels in it. */
function redrawn(code: Code, layout: LabelLayout, pixels: readonly number[]): Code {
  const { x, y, moduleDots } = code.symbol
  const { modules } = qrOf(layout)
  const { image } = code
  const data = new Uint8ClampedArray(image.data)
  for (let row = 0; row < modules * moduleDots; row += 1)
    for (let column = 0; column < modules * moduleDots; column += 1) {
      const cell = Math.floor(row / moduleDots) * modules + Math.floor(column / moduleDots)
      data[(y + row) * image.width + x + column] = pixels[cell] === 1 ? 0 : 255
    }
  return { ...code, image: { ...image, data } }
}

const CODES = isLong ? 200 : 12
const DROPS = isLong ? 40 : 25

test('a drop makes a second reader miss fewer codes than with the mask of the standard’s penalties', {
  timeout: 1_800_000,
}, async () => {
  const random = randomOf(20_261_130)
  const signs = (length: number) =>
    Array.from({ length }, () => ID_ALPHABET[Math.floor(random() * ID_ALPHABET.length)]).join('')
  const missed = { chosen: 0, standard: 0 }
  for (let n = 0; n < CODES; n += 1) {
    const layout = layoutCodeTile(`P1-${signs(3)}-${signs(8)}-${signs(2)}`, 203)
    const chosen = codeOf(layout)
    const standard = redrawn(chosen, layout, pixelsOf(layout, null))
    for (let drop = 0; drop < DROPS; drop += 1)
      for (const [name, code] of Object.entries({ chosen, standard })) {
        const pictures = damaged(code, 'blob', NOMINAL.blob, randomOf(n * 1_000 + drop))
        const sample = { name, code, damages: ['blob' as const], readers: ['zbar' as const] }
        if ((await missedBy(sample, pictures)).length > 0) missed[name as keyof typeof missed] += 1
      }
  }
  console.info(`of ${CODES * DROPS} drops ${JSON.stringify(missed)} were missed`)
  expect(missed.standard).toBeGreaterThan(0)
  expect(missed.chosen).toBeLessThan(0.75 * missed.standard)
})
