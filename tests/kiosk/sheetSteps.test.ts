import { describe, expect, test } from 'vitest'
import { blank, read } from '../../kiosk/forms/draft.ts'
import { SHEET } from '../../kiosk/setup/forms.ts'
import {
  atUsual,
  coatsFrom,
  componentsFrom,
  fieldsOfStep,
  firstTemperatures,
  ratioText,
  STEPS,
  stepOfField,
  usualC,
} from '../../kiosk/setup/sheetSteps.ts'
import { en as inEnglish } from '../../kiosk/words/sheetForm.ts'
import { emptyState } from '../../machines/state.ts'

const FORM = { kind: 'group', fields: SHEET } as const
const nameOf = (role: string) => `the ${role}`

describe('the form of a sheet in steps', () => {
  test('every field of a sheet is in exactly one step', () => {
    const drawn = STEPS.flatMap((step) => Object.keys(fieldsOfStep(step)))
    expect([...drawn, 'components'].sort()).toEqual(Object.keys(SHEET).sort())
    expect(STEPS.map((step) => inEnglish.steps[step])).not.toContain(undefined)
  })

  test('a wrong field is looked for in its own step', () => {
    expect(stepOfField('components.1.parts')).toBe('product')
    expect(stepOfField('potLife.0.minutes')).toBe('times')
    expect(stepOfField('cure.bake.0.flashBefore.0.minutes')).toBe('heat')
    expect(stepOfField('hazards.words')).toBe('coats')
  })

  test('a time without a temperature is for the usual one, a second time is not', () => {
    const draft = {
      ...(blank(FORM) as object),
      potLife: { word: '', points: [{ minutes: 60 }, { minutes: 30 }] },
      cure: {
        bake: [{ tempC: 60, minutes: 30, flashBefore: { word: '', points: [{ minutes: 10 }] } }],
      },
    }
    expect(firstTemperatures(FORM, draft)).toEqual(
      expect.arrayContaining(['potLife.0.atC', 'cure.bake.0.flashBefore.0.atC']),
    )
    expect(atUsual(FORM, read(FORM, draft), 23)).toMatchObject({
      potLife: [{ minutes: 60, atC: 23 }, { minutes: 30 }],
      cure: { bake: [{ flashBefore: [{ minutes: 10, atC: 23 }] }] },
    })
  })

  test('a temperature that was typed stands, and no time is filled in', () => {
    const draft = {
      ...(blank(FORM) as object),
      potLife: { word: '', points: [{ minutes: 60, atC: 30 }] },
    }
    const value = atUsual(FORM, read(FORM, draft), 20) as { flashBetween: object[] }
    expect(value).toMatchObject({ potLife: [{ minutes: 60, atC: 30 }] })
    expect(value.flashBetween).toEqual([{ atC: 20 }])
    // Without heat on the paper there is none on the sheet.
    expect(value).not.toHaveProperty('cure')
  })

  test('in a shop without a sheet of its own makers print for 20 °C', () => {
    expect(usualC(emptyState('S', ''))).toBe(20)
  })
})

describe('a ratio as the trade says it', () => {
  test.each([
    ['2:1', [2, 1], ['base', 'activator']],
    ['4:1+10%', [4, 1, 0.5], ['base', 'activator', 'reducer']],
    ['3:1:0,5', [3, 1, 0.5], ['base', 'activator', 'reducer']],
    ['1+50%', [1, 0.5], ['base', 'reducer']],
    ['1', [1], ['base']],
  ])('%s', (text, parts, roles) => {
    const made = componentsFrom(text, 'sum', [], nameOf)
    expect(made?.map((one) => one)).toMatchObject(
      parts.map((part, i) => ({ parts: part, role: roles[i], name: `the ${roles[i]}` })),
    )
    expect(ratioText(made ?? [])).toBe(parts.join(':'))
  })

  test('a percentage of the base alone', () => {
    expect(componentsFrom('4:1+10%', 'base', [], nameOf)?.[2]).toMatchObject({ parts: 0.4 })
  })

  test('what was typed of a part stays when the ratio changes; an empty row takes its name and role', () => {
    const had = [
      { name: 'clear 7', role: '', parts: 2, densityGPerMl: 0.99 },
      { name: '', role: '' },
    ]
    expect(componentsFrom('3:1', 'sum', had, nameOf)).toEqual([
      { name: 'clear 7', role: 'base', parts: 3, densityGPerMl: 0.99 },
      { name: 'the activator', role: 'activator', parts: 1 },
    ])
  })

  test.each(['', '4 to 1', '0:1', '4:'])('"%s" is none', (text) => {
    expect(componentsFrom(text, 'sum', [], nameOf)).toBeNull()
  })
})

test('one number of coats stands for all three, until another is typed', () => {
  expect(coatsFrom({ least: '', planned: 2, most: '' })).toEqual({ least: 2, planned: 2, most: 2 })
  expect(coatsFrom({ least: 1, planned: 2, most: '' })).toEqual({ least: 1, planned: 2, most: 2 })
  expect(coatsFrom('')).toEqual({ least: '', planned: '', most: '' })
})
