import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { BELLS } from '../../../machines/bell/kinds.ts'
import { COMMANDS } from '../../../machines/commands.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import { WORKS } from '../../../machines/panel/context.ts'
import {
  addPanel,
  air,
  around,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  mix,
  outsideOf,
  panelOf,
  shopWith,
  vanWith,
} from '../../support/given.ts'
import { DETAILS_FILE, inWords, tablesIn } from '../../support/rulesTable.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'
import { testTable } from '../../support/tableTests.ts'

/** What the design says of commands, steps and sheets, each sentence with the test that shows it. */

const WHOLE = inWords(readFileSync(DETAILS_FILE, 'utf8'))

testTable(WHOLE, tablesIn(join(import.meta.dirname, 'details')))

/** The fields of `{a, b?, c:[{d}]}` at its top, with whether one may be left out. */
function fieldsIn(shape: string): [string, boolean][] {
  let flat = shape
  for (let before = ''; before !== flat; ) {
    before = flat
    flat = flat.replace(/:?\[[^[\]{}]*\]|:\{[^{}]*\}|(?<=[[:])\{[^{}]*\}/g, '')
  }
  return flat.split(',').flatMap((field) => {
    const [, name, mark] = /^\s*(\w+)(\?)?/.exec(field) ?? []
    return name ? [[name, mark === '?'] as [string, boolean]] : []
  })
}

/** A command's name and what stands between its braces. */
function shapesIn(text: string): [string, string][] {
  const found: [string, string][] = []
  for (const { 1: name = '', index } of text.matchAll(/\b([A-Z]\w+) \{/g)) {
    if (!(name in COMMANDS)) continue
    const from = text.indexOf('{', index)
    let deep = 0
    let to = from
    do {
      if (text[to] === '{') deep += 1
      if (text[to] === '}') deep -= 1
      to += 1
    } while (deep > 0)
    found.push([name, text.slice(from + 1, to - 1)])
  }
  return found
}

type Shape = Readonly<Record<string, { readonly type: string }>>

const mayBeLeftOut = (field: { readonly type: string } | undefined): boolean =>
  ['optional', 'exact_optional', 'nullish'].includes(field?.type ?? '')

describe('a command', () => {
  const shapes = shapesIn(WHOLE).filter(([, shape]) => !/\.\.\.|\|/.test(shape))

  test('is read with its fields', () => {
    expect(shapes.length).toBeGreaterThan(25)
    expect(
      fieldsIn('panels, cup?, gunSet?:{inletKpa, turns}, from:[{cup, ml?}], override?:{codes?}'),
    ).toEqual([
      ['panels', false],
      ['cup', true],
      ['gunSet', true],
      ['from', false],
      ['override', true],
    ])
  })

  test.each(shapes)('%s has the fields of its shape, and asks for no other', (name, shape) => {
    const command: Readonly<Record<string, { readonly entries: Shape }>> = COMMANDS
    const { entries = {} } = command[name] ?? {}
    const named = fieldsIn(shape)
    const missing = named.filter(([field]) => !(field in entries))
    expect(missing).toEqual([])
    const wanted = Object.keys(entries).filter((field) => !mayBeLeftOut(entries[field]))
    // What may be left out by its shape is not asked for, and nothing is that its shape does not name.
    const demanded = named.filter(([, isOptional]) => !isOptional).map(([field]) => field)
    expect(wanted.filter((field) => !demanded.includes(field))).toEqual([])
  })

  const RECORDED: readonly (readonly [string, object, string])[] = [
    ['MoveCup', { cup: CLEAR_CUP, zone: 'bay' }, 'CupMoved'],
    ['BreakOffCoat', { panels: [DOOR], doneShare: 0.5 }, 'CoatBrokenOff'],
    ['DenibPanel', { panel: DOOR, grit: 1500 }, 'PanelDenibbed'],
    ['ReadFilm', { panel: DOOR, um: 40, method: 'wetComb' }, 'FilmRead'],
    ['PurgeZone', { zone: 'booth', minutes: 5 }, 'ZonePurged'],
    ['RinseGun', { gun: 'gun-1', solvent: 'thinner' }, 'GunRinsed'],
    ['SetDayRange', { zone: 'booth', minC: 15, maxC: 22 }, 'DayRangeSet'],
    ['SetAirMovers', { zone: 'booth', on: true }, 'AirMoversSet'],
    ['ClearZone', { zone: 'booth', how: 'smokeTest' }, 'ZoneCleared'],
  ]
  test.each(RECORDED)('%s records %s', (type, data, entry) => {
    const shop = vanWith(CLEAR_ONLY)
    if (type === 'BreakOffCoat') shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    else coat(shop, CLEAR_CUP, 1, 3).at(30)
    expect(shop.do(type, data)[0]?.type).toBe(entry)
  })

  test.each(WORKS)(
    'each work of a step by hand is taken, from the command or from the route: %s',
    (work) => {
      const said = vanWith([{ stage: 'prep' }, ...CLEAR_ONLY]).at(1)
      said.do('DoPrepStep', { panel: DOOR, step: 0, work })
      const planned = vanWith([{ stage: 'prep', work }, ...CLEAR_ONLY]).at(1)
      expect(panelOf(planned).route[0]?.work).toBe(work)
      planned.do('DoPrepStep', { panel: DOOR, step: 0 })
      for (const shop of [said, planned])
        expect([panelOf(shop).status[0], panelOf(shop).degreasedAt !== null]).toEqual([
          'done',
          work === 'degrease',
        ])
    },
  )
})

test('an id is eight of its alphabet, or one to forty of the other', () => {
  const shop = shopWith()
  const opened = (job: string) => () => shop.parse('OpenJob', { job, title: 'Van' })
  for (const job of ['23456789', 'ABCDEFGH', 'JKMNPQRS', 'TVWXYZ22'])
    expect(opened(job)).not.toThrow()
  for (const job of [
    '2345678',
    '234567892',
    'ABCDEFG0',
    'ABCDEFG1',
    'ABCDEFGI',
    'ABCDEFGL',
    'ABCDEFGO',
    'ABCDEFGU',
    'abcdefgh',
  ])
    expect(opened(job), job).toThrow('data.job')
  const saved = (zone: string) => () => shop.parse('SaveZone', { zone })
  for (const zone of ['a', 'Bay-2', 'z'.repeat(40)]) expect(saved(zone)).not.toThrow()
  for (const zone of ['', 'z'.repeat(41), 'bay 2', 'bay_2'])
    expect(saved(zone), zone).toThrow('data.zone')
})

test('a figure of when a film is ready may be given as points, and follows the air', () => {
  const ready = {
    polish: [
      { atC: 20, minutes: 60 },
      { atC: 10, minutes: 120 },
    ],
  }
  const shop = (airC: number): Shop => {
    const one = shopWith([{ ...CLEAR, ready, limits: {} }])
    addPanel(one, [
      { ...CLEAR_ONLY[0], coats: { least: 1, planned: 1, most: 1 } },
      { stage: 'polish' },
    ])
    coat(mix(one, CLEAR_CUP, CLEAR.sheet), CLEAR_CUP, 1, 3)
    for (let min = 3; min < 130; min += 20) air(one, min, airC)
    return one.at(3)
  }
  const polish = (one: Shop) => one.send('PolishPanel', { panel: DOOR })
  expect(around(shop(20), 63, polish)).toEqual(['notReady', 'done'])
  expect(around(shop(10), 123, polish)).toEqual(['notReady', 'done'])
})

test('a gun’s bell is an alarm, a coat that nobody finished a prompt, and heat names its mode', () => {
  expect([BELLS.gunNear.class, BELLS.gunNear.sound]).toEqual([
    BELLS.potNear.class,
    BELLS.potNear.sound,
  ])
  expect([BELLS.gunNear.class, BELLS.coatOpen.class]).toEqual(['medium', 'prompt'])
  const cure = { ...CLEAR.cure, infrared: { fullMin: 12, flashBefore: 5 } }
  const shop = coat(
    coat(vanWith(CLEAR_CURE, [{ ...CLEAR, cure }]), CLEAR_CUP, 1, 3),
    CLEAR_CUP,
    13,
    15,
  )
  shop.do('SetHeatLimit', { job: JOB, maxC: null })
  const modes = deadlines(shop.state).filter(({ bell }) => bell === 'mayGoToHeat')
  expect(modes.map((due) => (due as { mode?: string }).mode)).toEqual(['infrared', 'bake'])
  // And a bake is marked where it is set above what a part takes.
  const hot = vanWith(CLEAR_CURE, [{ ...CLEAR, limits: { maxPartC: 80 } }])
  coat(coat(hot, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
  const bake = { panels: [DOOR], mode: 'bake' }
  expect(
    outsideOf(
      hot
        .fork()
        .at(30)
        .do('StartCure', { ...bake, setC: 80 })[0],
    ),
  ).toEqual([])
  expect(outsideOf(hot.at(30).do('StartCure', { ...bake, setC: 80.1 })[0])).toEqual(['overheated'])
})
