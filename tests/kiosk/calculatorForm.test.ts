import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { formOf, shownOf, startOf, whyIn } from '../../kiosk/calculator/inAndOut.ts'
import { wrongText } from '../../kiosk/commands/refusalText.ts'
import { read } from '../../kiosk/forms/draft.ts'
import { type Spec, specOf } from '../../kiosk/forms/spec.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { dusted, readNumber, unitOf } from '../../kiosk/units/measure.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { en as inEnglish, es as inSpanish } from '../../kiosk/words/calculator.ts'
import type { Words } from '../../kiosk/words/en.ts'
import { setupIn } from '../../kiosk/words/setupIn.ts'
import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { calculatorNames, calculators } from '../../machines/trade/registry.ts'
import { type Typed, typedInto } from '../support/typed.ts'

type Name = keyof typeof calculators
const form = (name: Name): Spec => ({ kind: 'group', fields: formOf(name) })
const inputOf = (name: Name, typed: Typed, units: Settings['units'] = {}) =>
  read(form(name), typedInto(formOf(name), typed, units))
const answerTo = (name: Name, typed: Typed, units: Settings['units'] = {}) =>
  calculators[name].answer(inputOf(name, typed, units))

/** Every name that a form shows. */
function namesIn(spec: Spec): string[] {
  switch (spec.kind) {
    case 'group':
      return Object.entries(spec.fields).flatMap(([key, { spec: of }]) => [key, ...namesIn(of)])
    case 'list':
    case 'points':
      return namesIn(spec.item)
    case 'maybe':
      return namesIn(spec.of)
    default:
      return []
  }
}
/** Every choice of a form, by the key of its words. */
function choicesIn(spec: Spec, name = ''): readonly string[] {
  if (spec.kind === 'choice') return spec.of.map((value) => `${name}.${value}`)
  if (spec.kind === 'points') return Object.keys(spec.words).map((value) => `${name}.${value}`)
  if (spec.kind !== 'group') return []
  return Object.entries(spec.fields).flatMap(([key, { spec: of }]) => choicesIn(of, key))
}
const LANGUAGES = [
  { own: inEnglish, shared: setupIn(en) },
  { own: inSpanish, shared: setupIn(es) },
]

describe('a form is made from each calculation’s own schema', () => {
  test.each(calculatorNames)('%s has a form, and words in both languages for all of it', (name) => {
    for (const { own, shared } of LANGUAGES) {
      expect(own.names[name]).toBeTruthy()
      for (const field of namesIn(form(name)))
        expect(own.fields[field] ?? shared.fields[field], field).toBeTruthy()
    }
    expect(Object.keys(inSpanish.about?.[name] ?? {}).sort()).toEqual(
      Object.keys(calculators[name].about).sort(),
    )
  })

  test('choices have words, but for the names of flow cups, which are the standards’ own', () => {
    const options = calculatorNames
      .filter((name) => name !== 'viscosity')
      .flatMap((name) => choicesIn(form(name)))
    for (const option of options)
      for (const { own, shared } of LANGUAGES) {
        const words = { ...shared.choices, ...own.options }
        expect(words[option] ?? words[option.split('.')[1] ?? ''], option).toBeTruthy()
      }
  })

  test('a list starts with the fewest rows that are accepted', () => {
    expect(answerTo('interval', {})).toMatchObject({ error: { field: 'points.0.atC' } })
    expect(answerTo('clock', { kind: 'notAfter' })).toMatchObject({
      error: { field: 'points.0.atC' },
    })
  })
})

test('what was typed becomes the calculation’s input: numbers in the shop’s unit, comma or point', () => {
  const typed = { airC: '68', rh: '50', surfaceC: '' }
  expect(inputOf('dewPoint', typed, { temperature: 'F' })).toEqual({ airC: 20, rh: 0.5 })
  expect(readNumber('12,5')).toBe(12.5)
  expect(readNumber(' −3 ')).toBe(-3)
  for (const text of ['', '1.2.3', '1,000.5', 'x', '1e5']) expect(readNumber(text)).toBeNull()
})

test('optional parts: a pot life left out is none, a waterborne flash is there when it is given', () => {
  const plan = { coats: '2', sprayMinPerPanel: '3', panels: '2', airC: '20' }
  const flash = { 'flash.0.atC': '20', 'flash.0.minutes': '10' }
  expect(answerTo('cupPlan', { ...plan, ...flash, 'potLife.word': 'noPotLife' })).toMatchObject({
    ok: true,
    value: { livesUntilMin: null, enough: true },
  })
  expect(inputOf('clock', {})).not.toHaveProperty('waterborne')
  expect(inputOf('clock', { 'waterborne.rhRef': '' })).toMatchObject({ waterborne: {} })
})

test('a row that was added and not filled in is left out, but not one between others', () => {
  const typed = { ratio: '2:1', totalMl: '300', 'densities.0': '1', 'densities.1': '' }
  expect(inputOf('pour', { ...typed, 'densities.2': '' })).toMatchObject({ densities: [1] })
  expect(inputOf('pour', { ...typed, 'densities.2': '2' })).toMatchObject({
    densities: [1, undefined, 2],
  })
})

test('a schema that no form can be made of is refused when the form is made', () => {
  expect(() => specOf({ type: 'record' })).toThrow(RangeError)
  expect(() => specOf({ type: 'nullable', wrapped: { type: 'string' } })).toThrow(RangeError)
})

test('units convert there and back; a difference of temperature has no 32 in it', () => {
  const quantities = ['temperature', 'difference', 'volume', 'pressure', 'fraction'] as const
  const odd = { temperature: 'F', volume: 'flOz', pressure: 'psi' } as const
  fc.assert(
    fc.property(
      fc.constantFrom(...quantities),
      fc.constantFrom({}, odd),
      fc.double({ min: -100, max: 5_000, noNaN: true }),
      (quantity, units, value) => {
        const unit = unitOf(quantity, units)
        expect(unit.toSi(unit.fromSi(value))).toBeCloseTo(value, 6)
      },
    ),
  )
  expect(unitOf('temperature', odd).fromSi(20)).toBe(68)
  expect(dusted(unitOf('difference', odd).fromSi(3))).toBe(5.4)
  expect(dusted(unitOf('pressure', odd).fromSi(100))).toBe(14.5038)
  expect(unitOf('volume', odd).toSi(1)).toBe(29.5735)
})

describe('a wrong field is explained in the painter’s units and language', () => {
  const say = (name: keyof typeof calculators, typed: Typed, words: Words = en, units = {}) => {
    const answer = answerTo(name, typed, units)
    if (answer.ok) throw new Error(`${name} took it`)
    const { error } = answer
    const format = formatOf({ units, language: words === en ? 'en' : 'es' })
    return wrongText(error, { words, format }, { name: null, typed: typed[error.field] ?? '' })
  }

  test('limits are in the unit that was typed', () => {
    expect(say('dewPoint', { airC: '900', rh: '50' }, en, { temperature: 'F' })).toBe(
      '"900" won\'t work. Use a number from -22 to 248 °F.',
    )
    expect(say('dewPoint', { airC: '20', rh: '' })).toBe(
      'This is missing. Use a number above 0, up to 100 %.',
    )
    expect(say('dewPoint', { airC: 'warm', rh: '50' }, es)).toBe(
      '"warm" no sirve. Use un número de -30 a 120 °C.',
    )
  })

  const points = { 'points.0.atC': '20', 'points.0.minutes': '60' }
  const pour = { ratio: '2:1', totalMl: '300', 'densities.0': '1' }
  const both = { ...pour, 'densities.1': '1' }
  const option = { 'options.0.name': 'slow', 'options.0.fromC': '20', nowC: '20', warmestC: '20' }
  const one = { 'components.0.parts': '1', 'components.0.densityGPerMl': '1' }
  const air = { receiverL: '100', freeAirLpm: '200', gunLpm: '300' }
  const plan = {
    coats: '2',
    sprayMinPerPanel: '90',
    panels: '2',
    airC: '20',
    'flash.0.atC': '20',
    'flash.0.minutes': '10',
    'potLife.0.atC': '20',
    'potLife.0.minutes': '60',
  }
  const WRONG: readonly (readonly [keyof typeof calculators, Typed])[] = [
    ['interval', { ...points, 'points.1.atC': '20.1', 'points.1.minutes': '3' }],
    ['clock', { kind: 'notAfter', ...points, 'waterborne.rhRef': '' }],
    ['pour', { ...pour, ratio: 'two to one' }],
    ['pour', { ...pour }],
    ['pour', { ...both, stepG: '900' }],
    ['overPour', { ...both, ratio: '2:0', 'pouredG.0': '1', 'pouredG.1': '1' }],
    ['overPour', { ...both, 'pouredG.0': '1', 'pouredG.1': '1', 'pouredG.2': '1' }],
    ['quantity', { areaM2: '0' }],
    ['film', { solids: '40' }],
    ['film', { solids: '40', wetUm: '50', dryUm: '20' }],
    ['voc', { ...one, 'components.0.volatile': '50', 'components.0.exempt': '10' }],
    ['voc', { ...one, 'components.0.volatile': '5', 'components.0.water': '50' }],
    ['voc', { ...one, 'components.0.volatile': '100', 'components.0.water': '100' }],
    [
      'voc',
      {
        'components.0.parts': '1',
        'components.0.densityGPerMl': '2',
        'components.0.volatile': '90',
        'components.0.water': '90',
      },
    ],
    ['air', { ...air, cutOutKpa: '8', needKpa: '9' }],
    ['viscosity', { cup: 'Ford 9', seconds: '20' }],
    ['activator', { ...option, 'options.0.toC': '10' }],
    ['activator', { ...option, 'options.0.name': '', 'options.0.toC': '30' }],
    ['cupPlan', plan],
    ['cupPlan', { ...plan, coats: '2.5' }],
  ]

  test.each(WRONG)('%s: what to use is said in both languages (%#)', (name, typed) => {
    const answer = answerTo(name, typed)
    if (answer.ok) throw new Error(`${name} took it`)
    const [english, spanish] = [say(name, typed), say(name, typed, es)]
    expect(english).toMatch(/(won't work|is missing)\. Use .+\.$/)
    expect(spanish).toMatch(/(no sirve|Falta este dato)\. Use .+\.$/)
    expect(spanish).not.toContain(/Use (.*)\.$/.exec(english)?.[1] ?? '')
  })

  test('a pressure that must stay below another is given in bar, and in psi', () => {
    const typed = { ...air, cutOutKpa: '8', needKpa: '9' }
    expect(say('air', typed)).toBe('"9" won\'t work. Use a pressure below the cut-out, 8 bar.')
    expect(
      say('air', { ...air, cutOutKpa: '116', needKpa: '130' }, en, { pressure: 'psi' }),
    ).toContain('116 psi')
  })
})

describe('answers', () => {
  const say = { units: {}, words: en, none: inEnglish.none }

  test('numbers have their unit, lists become tables, what never comes is said so', () => {
    const typed = { ratio: '2:1', totalMl: '300' }
    const poured = answerTo('pour', typed)
    if (!poured.ok) throw new Error(JSON.stringify(poured.error))
    const shown = shownOf(poured.value, say)
    expect(shown.rows).toContainEqual({ key: 'totalMl', cell: { text: '300', unit: 'mL' } })
    expect(shown.tables[0]?.rows[0]?.[0]).toEqual({ text: '200', unit: 'mL' })
    const air = answerTo('air', {
      receiverL: '100',
      freeAirLpm: '400',
      gunLpm: '300',
      cutOutKpa: '8',
      needKpa: '6',
      duty: '100',
    })
    if (!air.ok) throw new Error(JSON.stringify(air.error))
    const keepsUp = shownOf(air.value, say).rows
    expect(keepsUp).toContainEqual({
      key: 'drawdownMin',
      cell: { text: 'never: it keeps up', unit: '' },
    })
    // A duty is proposed where nothing was typed.
    expect(startOf(formOf('air'))).toMatchObject({ duty: 0.6, hoseDropKpa: '' })
    expect(keepsUp).toContainEqual({ key: 'sustained', cell: { text: 'yes', unit: '' } })
  })

  test('every answer has words in both languages', () => {
    const samples: Partial<Record<keyof typeof calculators, Typed>> = {
      dewPoint: { airC: '20', rh: '50', surfaceC: '20' },
      quantity: { areaM2: '1', coats: '2', dryUmPerCoat: '25', solids: '45', transfer: '65' },
      film: { wetUm: '50', solids: '40' },
      colour: Object.fromEntries(
        ['panel', 'card'].flatMap((of) => [0, 1, 2].map((i) => [`${of}.${i}`, '10'])),
      ),
      viscosity: { cup: 'ISO 4', seconds: '50' },
      vocStages: { base: '400', clear: '300' },
    }
    for (const [name, typed] of Object.entries(samples)) {
      const answer = answerTo(name as keyof typeof calculators, typed)
      if (!answer.ok) throw new Error(`${name}: ${JSON.stringify(answer.error)}`)
      for (const key of Object.keys(answer.value as object))
        for (const { own, shared } of LANGUAGES)
          expect(own.fields[key] ?? shared.fields[key], key).toBeTruthy()
    }
  })

  test('why an activator is proposed is said in the shop’s unit', () => {
    const input = {
      options: [{ name: 'slow', fromC: 24, toC: 35 }],
      nowC: 20,
      warmestC: 30,
    }
    const result = calculators.activator.run(input)
    const inF = { ...say, units: { temperature: 'F' } as const }
    expect(whyIn('activator', input, result, inF)).toMatchObject({
      name: 'slow',
      why: 'It will be up to 86 °F; slow is for 75.2 °F to 95 °F. At 68 °F now it is below its range and slow.',
    })
  })
})
