import { expect, test } from 'vitest'
import { formOf, shownOf } from '../../kiosk/calculator/inAndOut.ts'
import { read } from '../../kiosk/forms/draft.ts'
import { localeOf, nextStep, weightText } from '../../kiosk/units/measure.ts'
import { en } from '../../kiosk/words/en.ts'
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
