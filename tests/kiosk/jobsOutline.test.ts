import { describe, expect, test } from 'vitest'
import {
  bodyOfVehicle,
  type Field,
  fullName,
  type Outline,
  outlineOf,
  panelNamed,
  placed,
  shortName,
  vehicleText,
} from '../../kiosk/jobs/outline.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { bodyTypes } from '../../machines/trade/panels.ts'

/** The drawing of each body that the shop knows: its fields are what a glove touches. */

const LANGUAGES = [en, es]
/** Less than a thousandth of a unit is drawing, not overlapping. */
const HAIR = 1e-3

describe.each(bodyTypes.map((body) => [body.id, body] as const))(
  'the drawing of a %s',
  (_, body) => {
    const outline: Outline = outlineOf(body)

    test('has every panel of the body once, and no other', () => {
      expect(outline.panels.map(({ id }) => id).toSorted()).toEqual(
        body.panels.map(({ id }) => id).toSorted(),
      )
    })

    test('gives every panel a field of at least a unit by a unit, inside the drawing', () => {
      for (const { id, from, to, left, right } of outline.panels) {
        expect(to - from, id).toBeGreaterThanOrEqual(1 - HAIR)
        expect(right - left, id).toBeGreaterThanOrEqual(1 - HAIR)
        expect(from, id).toBeGreaterThanOrEqual(0)
        expect(to, id).toBeLessThanOrEqual(outline.length)
        expect(Math.max(-left, right), id).toBeLessThanOrEqual(outline.width / 2)
      }
    })

    test('lets no two fields overlap: a touch means one panel', () => {
      const overlap = (a: Field, b: Field) =>
        Math.min(a.to, b.to) - Math.max(a.from, b.from) > HAIR &&
        Math.min(a.right, b.right) - Math.max(a.left, b.left) > HAIR
      for (const a of outline.panels)
        for (const b of outline.panels)
          expect(a !== b && overlap(a, b), `${a.id} over ${b.id}`).toBe(false)
    })

    test('keeps every shape within the field that is touched', () => {
      for (const { id, shape, from, to, left, right } of outline.panels) {
        for (const [along, side] of shape) {
          expect(along, id).toBeGreaterThanOrEqual(from - HAIR)
          expect(along, id).toBeLessThanOrEqual(to + HAIR)
          expect(side, id).toBeGreaterThanOrEqual(left - HAIR)
          expect(side, id).toBeLessThanOrEqual(right + HAIR)
        }
      }
    })

    test('has a left that is the mirror image of its right, seen from above', () => {
      for (const right of outline.panels.filter(({ id }) => id.startsWith('right-'))) {
        const left = outline.panels.find(({ id }) => id === right.id.replace('right', 'left'))
        expect([left?.from, left?.to, left?.left, left?.right]).toEqual([
          right.from,
          right.to,
          -right.right,
          -right.left,
        ])
      }
      // Facing up the left is on the left; facing left it is below.
      const left = outline.panels.find(({ id }) => id === 'left-front-door') as Field
      const [x] = placed(outline, 'up', [left.from, left.left])
      expect(x).toBeLessThan(outline.width / 2)
      const [, y] = placed(outline, 'left', [left.from, left.left])
      expect(y).toBeGreaterThan(outline.width / 2)
    })

    test('is found again by the names that a job keeps, in every language', () => {
      for (const words of LANGUAGES) {
        const names = body.panels.map(({ id }) => fullName(words, id))
        expect(new Set(names).size).toBe(names.length)
        expect(bodyOfVehicle(vehicleText(words, body.id, 'white, long'))).toBe(body)
        expect(bodyOfVehicle(vehicleText(words, body.id, ''))).toBe(body)
        for (const { id } of body.panels) {
          expect(panelNamed(body, fullName(words, id))?.id).toBe(id)
          expect(shortName(words, id)).not.toBe('')
        }
      }
    })
  },
)

test('a vehicle that is not drawn has no drawing', () => {
  expect(bodyOfVehicle(null)).toBeUndefined()
  expect(bodyOfVehicle('a trailer')).toBeUndefined()
  expect(vehicleText(en, null, ' two doors ')).toBe('two doors')
})
