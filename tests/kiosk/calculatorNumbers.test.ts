import { expect, test } from 'vitest'
import { formOf, shownOf } from '../../kiosk/calculator/inAndOut.ts'
import { read, stepped } from '../../kiosk/forms/draft.ts'
import { type Field, fieldsOf } from '../../kiosk/forms/spec.ts'
import { dusted, localeOf, nextStep, unitOf, weightText } from '../../kiosk/units/measure.ts'
import { en } from '../../kiosk/words/all.ts'
import { COMMANDS } from '../../machines/commands.ts'
import { calculators } from '../../machines/trade/registry.ts'
import { type Typed, typedInto } from '../support/typed.ts'

const { pour } = calculators
const fields = formOf('pour')
const inputFrom = (typed: Typed) => read({ kind: 'group', fields }, typedInto(fields, typed, {}))

test('a ratio may be typed with a decimal comma or point', () => {
  const input = inputFrom({ ratio: '2:1:0,5', totalMl: '350' })
  expect(input).toMatchObject({ ratio: '2:1:0.5' })
  expect(pour.answer(input)).toMatchObject({ ok: true })
})

test('a touch goes to the next whole step, also from a number between two', () => {
  expect(nextStep(320, 50, -1)).toBe(300)
  expect(nextStep(330, 50, 1)).toBe(350)
  expect([nextStep(300, 50, 1), nextStep(300, 50, -1)]).toEqual([350, 250])
  expect([nextStep(0.3, 0.1, 1), nextStep(0.3, 0.1, -1)]).toEqual([0.4, 0.2])
})

test('a stepper goes by its own step or the unit’s, and no lower than what is accepted', () => {
  const { totalMl } = fieldsOf(COMMANDS.MixCup, { only: ['totalMl'], steps: { totalMl: 'unit' } })
  const { needleMm } = fieldsOf(COMMANDS.LoadGun, { only: ['needleMm'], steps: { needleMm: 0.1 } })
  const { warmestC } = fieldsOf(calculators.activator.schema, { steps: { warmestC: 'unit' } })
  const step = (field: Field | undefined, si: number | null, by: 1 | -1, units = {}) => {
    if (field?.spec.kind !== 'number') throw new Error()
    return stepped(field.spec, unitOf(field.spec.measure, units), si, by)
  }
  expect([step(totalMl, 320, 1), step(totalMl, null, 1)]).toEqual([350, 50])
  // Zero is not accepted: it stays at one step, or at what is less already.
  expect([step(totalMl, 50, -1), step(totalMl, 30, -1), step(totalMl, null, -1)]).toEqual([
    50, 30, 50,
  ])
  expect(step(totalMl, 29.5735, 1, { volume: 'flOz' })).toBe(59.147)
  expect([step(needleMm, 1.3, 1), step(needleMm, 0.1, -1)]).toEqual([1.4, 0.1])
  expect([step(warmestC, -1, -1), step(warmestC, 20, 1, { temperature: 'F' })]).toEqual([
    -2,
    dusted((69 - 32) / 1.8),
  ])
})

// 3001 mL at 2:1 are 2000.67 mL of the base; at 1.0345 g/mL they weigh 2069.69 g.
test('a heavy mix keeps the tenths that the scale shows', () => {
  const densities = { 'densities.0': '1.0345', 'densities.1': '1.05' }
  const poured = pour.answer(
    inputFrom({ ...densities, ratio: '2:1', totalMl: '3001', stepG: '0.1' }),
  )
  if (!poured.ok) throw new Error(JSON.stringify(poured.error))
  const say = { units: {}, words: en, none: String }
  const [first] = shownOf(poured.value, say).tables[0]?.rows ?? []
  expect(first?.[2]).toEqual({ text: '2069.7', unit: 'g' })
  expect(weightText(1234.5, localeOf('es'))).toBe('1234.5')
  expect(weightText(0.12345, 'en-GB')).toBe('0.1235')
})
