import { describe, expect, test } from 'vitest'
import { COMMANDS } from '../../../machines/commands.ts'
import { PROTOCOL, parseCommand } from '../../../machines/contract.ts'
import { CLEAR_CUP, DOOR, JOB } from '../../support/given.ts'
import { saidWrong } from '../../support/said.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'

const command = (type: string, data: unknown, more: object = {}) => ({
  id: 'c1',
  type,
  data,
  ...more,
})
function errorOf(input: unknown): { field: string; message: string } {
  const parsed = parseCommand(input)
  if (parsed.ok) throw new Error(`accepted: ${JSON.stringify(parsed.value)}`)
  return saidWrong(parsed.error)
}
const mix = { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 300 }
const clear = (more: object) => command('SaveSheet', { sheet: { ...CLEAR, ...more } })
const ID8 = 'eight characters of 23456789ABCDEFGHJKMNPQRSTVWXYZ'
const ID40 = '1 to 40 characters of A-Z, a-z, 0-9 and -'

describe('the answer to a wrong command names the field, what was given and what is accepted', () => {
  test.each<[string, unknown, string]>([
    ['no object', 'StartCoat', 'the body: "StartCoat" won\'t work. Use an object with id, type'],
    ['no id', { type: 'PauseJob', data: { job: JOB } }, `id is missing. Use ${ID40}.`],
    [
      'an id with a space',
      command('PauseJob', { job: JOB }, { id: 'a b' }),
      `id: "a b" won't work. Use ${ID40}.`,
    ],
    [
      'a field too many',
      command('PauseJob', { job: JOB }, { when: 1 }),
      "when: 1 won't work. Use only these fields: id, type",
    ],
    [
      'an unknown type',
      command('PaintIt', {}),
      'type: "PaintIt" won\'t work. Use one of SaveSheet, RetireSheet',
    ],
    [
      "a type of every object's",
      command('constructor', {}),
      'type: "constructor" won\'t work. Use one of',
    ],
    [
      'a time in seconds',
      command('PauseJob', { job: JOB }, { at: 1_767_600_000 }),
      "at: 1767600000 won't work. Use UTC milliseconds from 1577836800000 to 4102444800000 (2020 to 2100).",
    ],
    ['no data', { id: 'c1', type: 'PauseJob' }, 'data is missing. Use an object with job.'],
    [
      'a missing field',
      command('MixCup', { ...mix, sheet: undefined }),
      `data.sheet is missing. Use ${ID40}.`,
    ],
    [
      'a letter that ids do not use',
      command('PauseJob', { job: 'JOB0OIL1' }),
      `data.job: "JOB0OIL1" won't work. Use ${ID8}.`,
    ],
    [
      'an id that is too short',
      command('PauseJob', { job: 'JJJJ222' }),
      `data.job: "JJJJ222" won't work. Use ${ID8}.`,
    ],
    [
      'text for a number',
      command('MixCup', { ...mix, totalMl: '300' }),
      'data.totalMl: "300" won\'t work. Use a number above 0, up to 200000 mL.',
    ],
    [
      'nothing for a volume',
      command('MixCup', { ...mix, totalMl: 0 }),
      "data.totalMl: 0 won't work. Use a number above 0, up to 200000 mL.",
    ],
    [
      'not a number',
      command('MixCup', { ...mix, totalMl: Number.NaN }),
      "data.totalMl: NaN won't work. Use a number above 0",
    ],
    [
      'without end',
      command('MixCup', { ...mix, totalMl: Number.POSITIVE_INFINITY }),
      "data.totalMl: Infinity won't work. Use",
    ],
    [
      'humidity in per cent',
      command('ReadClimate', { zone: 'booth', airC: 20, rh: 55 }),
      "data.rh: 55 won't work. Use a number from 0 to 1 (0.55 is 55 %).",
    ],
    [
      'a temperature in °F',
      command('ReadClimate', { zone: 'booth', airC: 270, rh: 0.5 }),
      "data.airC: 270 won't work. Use a number from -30 to 120 °C.",
    ],
    [
      'no panels',
      command('FinishCoat', { panels: [] }),
      "data.panels: [] won't work. Use a list of 1 to 60 items.",
    ],
    [
      'one panel as text',
      command('FinishCoat', { panels: DOOR }),
      `data.panels: "${DOOR}" won't work. Use a list of 1 to 60 items.`,
    ],
    [
      'a wrong panel among others',
      command('FinishCoat', { panels: [DOOR, 'x'] }),
      `data.panels.1: "x" won't work. Use ${ID8}.`,
    ],
    [
      'a word outside the list',
      command('InspectCoat', { panel: DOOR, result: 'fine' }),
      'data.result: "fine" won\'t work. Use one of matt, notYet, good, nibsOut, run, dry, mottle, fisheye, notCovered.',
    ],
    [
      'a part of a coat',
      command('SendBackPanel', { panel: DOOR, toStep: 0, done: 1.5, reason: 'x' }),
      "data.done: 1.5 won't work. Use a whole number from 0 to 20.",
    ],
    [
      'blank text',
      command('OpenJob', { job: JOB, title: '  ' }),
      'data.title: "  " won\'t work. Use text of 1 to 120 characters.',
    ],
    [
      'text with NUL',
      command('OpenJob', { job: JOB, title: 'a\0b' }),
      'data.title: "a\\u0000b" won\'t work. Use text without NUL and without broken characters.',
    ],
    [
      'half a surrogate pair',
      command('OpenJob', { job: JOB, title: 'a\ud800' }),
      'Use text without NUL and without broken characters.',
    ],
    [
      'a field too many, inside',
      command('MovePanel', { panel: DOOR, zone: 'bay', from: 'booth' }),
      'data.from: "booth" won\'t work. Use only these fields: panel, zone, override.',
    ],
  ])('%s', (_, input, message) => {
    const error = errorOf(input)
    expect(error.message).toContain(message)
    expect(error.message).toMatch(new RegExp(`^${error.field || 'the body'}`.replace('.', '[.]')))
  })
})

test('every wrong field is named; of a body with thousands of values the first alone', () => {
  const namedOf = (panels: number) => {
    const parsed = parseCommand(command('FinishCoat', { panels: Array(panels).fill('x') }))
    return parsed.ok ? [] : parsed.errors.map(({ field }) => field)
  }
  expect(namedOf(3)).toEqual(['data.panels.0', 'data.panels.1', 'data.panels.2'])
  expect(namedOf(100_000)).toEqual(['data.panels.0'])
})

describe('a sheet that is wrong', () => {
  test.each<[string, object, string]>([
    [
      'a flash as a number',
      { flashBetween: 10 },
      "data.sheet.flashBetween: 10 won't work. Use a list of 1 to 12 items.",
    ],
    [
      'no points',
      { flashBetween: [] },
      "data.sheet.flashBetween: [] won't work. Use a list of 1 to 12 items.",
    ],
    [
      'zero beside minutes',
      {
        flashBetween: [
          { atC: 20, minutes: 0 },
          { atC: 30, minutes: 5 },
        ],
      },
      'all zero minutes or all above zero',
    ],
    [
      'the same temperature twice',
      {
        flashBetween: [
          { atC: 20, minutes: 9 },
          { atC: 20, minutes: 5 },
        ],
      },
      'data.sheet.flashBetween: ',
    ],
    [
      'a pot life of zero',
      { potLife: [{ atC: 20, minutes: 0 }] },
      'Use points above zero minutes, or null for no pot life.',
    ],
    [
      'a window of zero',
      { recoatWithin: [{ atC: 20, minutes: 0 }] },
      'Use points above zero minutes, "unlimited" or "mustSand".',
    ],
    [
      'a word for a window',
      { recoatWithin: 'never' },
      'data.sheet.recoatWithin: "never" won\'t work. Use points above zero minutes, "unlimited" or "mustSand".',
    ],
    [
      'coats out of order',
      { coats: { least: 3, planned: 2, most: 4 } },
      'Use least not above planned, planned not above most.',
    ],
    [
      'a stage by hand',
      { stage: 'prep' },
      'data.sheet.stage: "prep" won\'t work. Use one of adhesion-promoter, primer',
    ],
    [
      'no components',
      { components: [] },
      "data.sheet.components: [] won't work. Use a list of 1 to 12 items.",
    ],
    [
      'components without a part',
      { components: [{ name: 'clear', role: 'base', parts: 0 }] },
      'Use components of which one has parts above 0.',
    ],
    [
      'a bake without a basis',
      { cure: { bake: [{ tempC: 60, minutes: 30 }] } },
      'data.sheet.cure.bake.0.basis is missing. Use one of part, air.',
    ],
    [
      'water as a per cent',
      { components: [{ name: 'c', role: 'base', parts: 1, water: 40 }] },
      "data.sheet.components.0.water: 40 won't work. Use a number from 0 to 1 (0.55 is 55 %).",
    ],
  ])('%s', (_, more, message) => {
    expect(errorOf(clear(more)).message).toContain(message)
  })

  test('what is not demanded may be left out', () => {
    const demanded = [
      'sheet',
      'name',
      'stage',
      'medium',
      'components',
      'by',
      'potLife',
      'flashBetween',
      'flashBeforeNext',
      'recoatWithin',
      'coats',
    ]
    const least = Object.fromEntries(Object.entries(BASE).filter(([key]) => demanded.includes(key)))
    expect(parseCommand(command('SaveSheet', { sheet: least })).ok).toBe(true)
    for (const key of demanded) {
      const { [key]: _, ...without } = least as Record<string, unknown>
      expect(errorOf(command('SaveSheet', { sheet: without })).field).toBe(`data.sheet.${key}`)
    }
  })
})

describe('a command that is right', () => {
  test('may come with a device and a person that are null, which is as good as none', () => {
    const parsed = parseCommand(
      command('PauseJob', { job: JOB }, { device: null, by: null, seq: null }),
    )
    expect(parsed).toEqual({
      ok: true,
      value: { id: 'c1', protocol: PROTOCOL, type: 'PauseJob', data: { job: JOB } },
    })
  })

  test('is filled up with what is meant where nothing is said', () => {
    const coat = parseCommand(command('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }))
    expect(coat.ok && coat.value.data).toMatchObject({ kind: 'full' })
    const cup = parseCommand(command('MixCup', mix))
    expect(cup.ok && cup.value.data).toMatchObject({ zone: 'bench' })
  })

  test('no command takes nothing at all, but a change of settings', () => {
    const takesNothing = Object.keys(COMMANDS).filter((type) => parseCommand(command(type, {})).ok)
    expect(takesNothing).toEqual(['ChangeSettings'])
  })

  test('every wrong shape is answered, never thrown', () => {
    for (const type of Object.keys(COMMANDS)) {
      for (const data of [null, 1, 'x', [[]], { panels: null }, { sheet: [] }, { from: [1] }]) {
        expect(parseCommand(command(type, data)).ok).toBe(false)
      }
    }
    for (const input of [null, undefined, 1, [], 'x', Symbol.iterator]) {
      expect(parseCommand(input).ok).toBe(false)
    }
  })
})
