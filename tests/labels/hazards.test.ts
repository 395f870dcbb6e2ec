import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readCode } from '../../labels/code.ts'
import { type CupLabel, hazardOf, layoutCupLabel } from '../../labels/layout.ts'
import { said } from '../support/labelBoxes.ts'
import {
  anyLabel,
  anyPaper,
  anyStyle,
  BASE,
  CLEAR,
  MADRID,
  MIXED_AT_MS,
  paper,
} from '../support/labelSamples.ts'

const clear = (change: Partial<CupLabel> = {}) =>
  layoutCupLabel({ ...CLEAR, ...change }, paper(203), MADRID)
const base = (change: Partial<CupLabel> = {}) =>
  layoutCupLabel({ ...BASE, ...change }, paper(203), MADRID)

test('a two-part mix with isocyanate says so on every stock, in both languages', () => {
  const cue = /ISOCYANATE – RESPIRATORY SENSITIZER|ISOCIANATO – SENSIBILIZANTE RESPIRATORIO/
  fc.assert(
    fc.property(anyLabel, anyPaper, anyStyle, (label, on, style) => {
      const known = { ...label.hazard, isocyanate: true }
      expect(said(layoutCupLabel({ ...label, hazard: known }, on, style))).toMatch(cue)
    }),
  )
})

test('a hardener without entered hazards counts as one with isocyanate, on the label and in the code', () => {
  const layout = clear({ hazard: hazardOf(undefined) })
  expect(said(layout)).toContain('HAZARD DATA MISSING – TREAT AS DANGER')
  expect(said(layout)).toContain('ISOCYANATE')
  expect(layout.items.some((item) => item.kind === 'pictogram')).toBe(false)
  const read = readCode(layout.payload, { shopTag: 'K7F', nowMs: MIXED_AT_MS })
  expect(read).toMatchObject({ hazard: { signal: 'missing', isocyanate: true } })
  expect(said(base({ hazard: hazardOf(undefined) }))).not.toContain('ISOCYANATE')
})

test('a two-part mix without isocyanate points to its safety sheet', () => {
  const text = said(clear({ hazard: { ...CLEAR.hazard, isocyanate: false } }))
  expect(text).not.toContain('ISOCYANATE')
  expect(text).toContain('2K – SEE SAFETY SHEET')
})

test('no label is without a cue', () => {
  const none = { signal: 'none' as const, isocyanate: false, pictograms: [], words: [] }
  expect(said(base({ hazard: none }))).toContain('SEE SAFETY SHEET')
})

test('a sheet’s own words become signal, pictograms and words, and none is lost', () => {
  const sheet = { signal: 'Danger', isocyanate: true, words: 'Flammable' }
  expect(
    hazardOf({
      ...sheet,
      pictograms: ['GHS02', 'exclamation mark', 'health hazard', 'corrosion'],
    }),
  ).toEqual({
    signal: 'danger',
    isocyanate: true,
    pictograms: ['flame', 'exclamation', 'healthHazard'],
    words: ['corrosion', 'Flammable'],
  })
  const other = { ...sheet, pictograms: [], words: [] }
  expect(hazardOf({ ...other, signal: 'Atención' }).signal).toBe('warning')
  expect(hazardOf({ ...other, signal: 'none' }).signal).toBe('none')
  expect(hazardOf({ ...other, signal: 'Caution' }).signal).toBe('danger')
})

test('where room is short, words of the sheet are left out, and an ellipsis shows it', () => {
  const words = [
    'Flammable',
    'Harmful if inhaled',
    'Keep away from heat',
    'Drowsiness',
    'Skin irritation',
  ]
  const text = said(clear({ hazard: { ...CLEAR.hazard, words } }))
  expect(text).toContain('…')
  expect(text).toContain('ISOCYANATE – RESPIRATORY SENSITIZER')
  const large = layoutCupLabel(
    { ...CLEAR, hazard: { ...CLEAR.hazard, words } },
    paper(203, 100, 70),
    MADRID,
  )
  expect(said(large)).toContain('SKIN IRRITATION')
})

test('what the cue says already is not said twice, however an old sheet spells it; another sensitizer stays', () => {
  const words = [
    ...['Respiratory sensitiser', 'RESPIRATORY SENSITIZER', 'Sensibilizante respiratorio'],
    ...['Isocyanate', 'Skin sensitiser'],
  ]
  const saidOf = (hazard: CupLabel['hazard']) =>
    said(layoutCupLabel({ ...CLEAR, hazard }, paper(203, 100, 60), MADRID))
  const text = saidOf({ ...CLEAR.hazard, words })
  expect(text.match(/RESPIRATOR/g)).toHaveLength(1)
  expect(text.match(/ISOC/g)).toHaveLength(1)
  expect(text).toContain('SKIN SENSITISER')
  // Without the cue its sheet's own words are all that says it.
  const other = { ...CLEAR.hazard, isocyanate: false, words: ['Respiratory sensitiser'] }
  expect(saidOf(other)).toContain('RESPIRATORY SENSITISER')
})
