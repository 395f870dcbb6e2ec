import { describe, expect, test } from 'vitest'
import { openBells } from '../../kiosk/bells/openBells.ts'
import { meant } from '../../kiosk/commands/send.ts'
import { actsOf } from '../../kiosk/lanes/acts.ts'
import { chipOf } from '../../kiosk/lanes/chip.ts'
import { cupsOf, loadedGunsOf } from '../../kiosk/lanes/cups.ts'
import { type Lane, lanesOf } from '../../kiosk/lanes/lanes.ts'
import { countdown, formatOf, shortLength } from '../../kiosk/units/format.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { minute, Shop } from '../support/shop.ts'

const JOB = 'VANREAR2'
const QUARTER = 'REARQTR2'
const CUP = 'K7QDM2XV'

function vanShop(route: readonly object[]): Shop {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: CLEAR })
  shop.do('SaveSheet', { sheet: BASE })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  shop.do('AddPanel', {
    job: JOB,
    panel: QUARTER,
    name: 'Rear quarter, right',
    operation: 'repair',
    areaM2: 1,
    route,
  })
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 500, activator: 'standard' })
  return shop
}

const CLEAR_AND_CURE = [
  { stage: 'clear', sheet: CLEAR.sheet },
  { stage: 'cure', sheet: CLEAR.sheet },
  { stage: 'polish' },
]
const only = (shop: Shop, min: number): Lane => {
  const [lane] = lanesOf(shop.state, minute(min))
  if (!lane) throw new Error('no lane')
  return lane
}
const chip = (shop: Shop, min: number) => chipOf(only(shop, min), en, minute(min))

describe('a lane', () => {
  test('says what a panel waits for, from bare to passed', () => {
    const shop = vanShop([{ stage: 'prep' }, ...CLEAR_AND_CURE])
    expect(chip(shop, 0)).toMatchObject({ big: 'PREP', sound: null })
    shop.do('DoPrepStep', { panel: QUARTER, step: 0 })
    expect(chip(shop, 0)).toMatchObject({ big: 'CLEAR 1', small: 'first coat', sound: null })
    shop.do('StartCoat', { panels: [QUARTER], cup: CUP })
    expect(chip(shop, 1)).toMatchObject({ big: '1:00', small: 'spraying clear 1' })
    shop.at(2).do('FinishCoat', { panels: [QUARTER] })
    expect(chip(shop, 3)).toMatchObject({ big: '9:00', small: 'to clear 2', sound: null })
    // Only what rings or answers a bell carries its colour.
    expect(chip(shop, 12)).toMatchObject({ big: 'CLEAR 2', small: 'ready now', sound: 'A' })
    shop.at(12).do('StartCoat', { panels: [QUARTER], cup: CUP })
    shop.at(14).do('FinishCoat', { panels: [QUARTER] })
    expect(chip(shop, 20)).toMatchObject({ big: '4:00', small: 'until heat' })
    shop.at(24).do('StartCure', { panels: [QUARTER], mode: 'bake' })
    expect(chip(shop, 25)).toMatchObject({ big: 'UNMEASURED' })
    shop.at(26).do('ReadPart', { panel: QUARTER, partC: 40 })
    expect(chip(shop, 27)).toMatchObject({ big: 'HEATING' })
    shop.at(30).do('ReadPart', { panel: QUARTER })
    expect(chip(shop, 40)).toMatchObject({ big: '20:00', small: 'of cure left' })
    expect(chip(shop, 60)).toMatchObject({ big: 'CURED', sound: 'D' })
    shop.at(61).do('EndCure', { panels: [QUARTER] })
    expect(chip(shop, 62)).toMatchObject({ big: '29:00', small: 'until cool' })
    shop.at(91).do('DoPrepStep', { panel: QUARTER, step: 3 })
    expect(chip(shop, 92)).toMatchObject({ big: 'INSPECT' })
    shop.do('PassPanel', { panel: QUARTER })
    expect(lanesOf(shop.state, minute(93))).toEqual([])
  })

  test('of a part that was read shortly before its bake is measured for ten minutes from then', () => {
    const shop = vanShop(CLEAR_AND_CURE)
    for (const min of [2, 14]) shop.at(min).do('FinishCoat', { panels: [QUARTER], cup: CUP })
    shop.at(22).do('ReadPart', { panel: QUARTER, partC: 40 })
    shop.at(24).do('StartCure', { panels: [QUARTER], mode: 'bake' })
    expect(chip(shop, 31)).toMatchObject({ big: 'HEATING' })
    expect(only(shop, 31).cure).toMatchObject({ tempC: 40 })
    expect(chip(shop, 33)).toMatchObject({ big: 'UNMEASURED' })
  })

  test('draws the flash from the coat’s finish, then the window, then what follows it', () => {
    const shop = vanShop(CLEAR_AND_CURE)
    shop.do('StartCoat', { panels: [QUARTER], cup: CUP })
    shop.at(2).do('FinishCoat', { panels: [QUARTER] })
    expect(only(shop, 3).band).toEqual({
      from: minute(2),
      flashTo: minute(12),
      shutsAt: minute(2 + 480),
      afterWindow: 'abrade',
    })
    expect(chip(shop, 2 + 470)).toMatchObject({ small: 'RECOAT, else abrade', sound: 'C1' })
    expect(chip(shop, 2 + 480)).toMatchObject({ big: 'ABRADE', sound: 'C2' })
  })

  test('is blind without a reading of its zone within 30 minutes', () => {
    const shop = vanShop(CLEAR_AND_CURE)
    expect(only(shop, 0).isBlind).toBe(true)
    shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    expect(only(shop, 29).isBlind).toBe(false)
    expect(only(shop, 30).isBlind).toBe(true)
  })
})

describe('what a touch on a lane offers', () => {
  const offered = (shop: Shop, min: number) =>
    actsOf(shop.state, only(shop, min), en, minute(min)).map(
      ({ type, isMain }) => `${type}${isMain ? '!' : ''}`,
    )

  test('is what the panel waits for, with the cup that fits', () => {
    const shop = vanShop(CLEAR_AND_CURE)
    shop.do('MixCup', { cup: 'BASE3W9K', sheet: BASE.sheet, totalMl: 500 })
    expect(offered(shop, 0)).toEqual(['StartCoat!'])
    shop.do('StartCoat', { panels: [QUARTER], cup: CUP })
    expect(offered(shop, 1)).toEqual(['FinishCoat!', 'BreakOffCoat'])
    shop.at(2).do('FinishCoat', { panels: [QUARTER] })
    shop.at(12).do('StartCoat', { panels: [QUARTER], cup: CUP })
    shop.at(14).do('FinishCoat', { panels: [QUARTER] })
    // A bake that is set, one whose setting is not known, and by air; what the vehicle takes is asked first.
    expect(offered(shop, 24)).toEqual(['StartCure', 'StartCure', 'StartCure', 'StartCoat'])
    shop.do('SetHeatLimit', { job: JOB, maxC: null })
    expect(offered(shop, 24)).toEqual(['StartCure!', 'StartCure', 'StartCure', 'StartCoat'])
  })

  test('sends what it says: every action is accepted unchanged', () => {
    const shop = vanShop([{ stage: 'prep' }, ...CLEAR_AND_CURE])
    for (const min of [1, 2, 4, 15, 17, 28, 29, 60, 90, 91]) {
      shop.at(min)
      const act = actsOf(shop.state, only(shop, min), en, minute(min))[0]
      if (act) shop.do(act.type, act.data)
    }
    expect(shop.state.things.panel[QUARTER]?.value).toMatchObject({ route: 'passed' })
  })
})

describe('cups and guns', () => {
  test('a cup’s ring empties as its pot life runs, and the one that ends first comes first', () => {
    const shop = vanShop(CLEAR_AND_CURE)
    shop.at(10).do('MixCup', { cup: 'CRC5M2XT', sheet: CLEAR.sheet, totalMl: 200 })
    const cups = cupsOf(shop.state, minute(30))
    expect(cups.map(({ id, left }) => [id, left])).toEqual([
      [CUP, 0.5],
      ['CRC5M2XT', 40 / 60],
    ])
    expect(cupsOf(shop.state, minute(60))[0]?.bell?.bell).toBe('potOver')
  })

  test('a label is marked as too late when the clock ends five minutes before it', () => {
    const shop = vanShop(CLEAR_AND_CURE)
    shop.do('PrintLabel', { cup: CUP })
    expect(cupsOf(shop.state, minute(1))[0]?.labelReadsLate).toBe(false)
    shop.at(5).do('ReadClimate', { zone: 'bench', airC: 30, rh: 0.5 })
    expect(cupsOf(shop.state, minute(6))[0]?.labelReadsLate).toBe(true)
  })

  test('a loaded gun is shown until it is cleaned, also once its cup is emptied', () => {
    const shop = vanShop(CLEAR_AND_CURE)
    shop.do('LoadGun', { gun: 'gun-1', cup: CUP })
    shop.do('EmptyCup', { cup: CUP, how: 'used' })
    expect(loadedGunsOf(shop.state, minute(1))).toMatchObject([{ id: 'gun-1', endsAt: minute(60) }])
    shop.do('CleanGun', { gun: 'gun-1' })
    expect(loadedGunsOf(shop.state, minute(1))).toEqual([])
  })
})

test('the ringer gets every deadline, and what the log knows of it', () => {
  const shop = vanShop(CLEAR_AND_CURE)
  shop.do('StartCoat', { panels: [QUARTER], cup: CUP })
  shop.at(2).do('FinishCoat', { panels: [QUARTER] })
  const ready = openBells(shop.state).bells.find((b) => b.kind === 'coatReady')
  expect(ready).toMatchObject({ dueAt: minute(12), thing: QUARTER, job: JOB })
  const key = ready?.key ?? ''
  expect(openBells(shop.state).known(key)).toBeUndefined()
  shop.at(12).do('RingBell', { key })
  shop.do('AcknowledgeBell', { key })
  expect(openBells(shop.state).known(key)).toEqual({ isAcknowledged: true, snoozes: 0 })
})

describe('what the kiosk writes', () => {
  test('countdowns and lengths', () => {
    expect([402_000, 0, 999, -61_000, 3_850_000].map(countdown)).toEqual([
      '6:42',
      '0:00',
      '0:01',
      '−1:01',
      '1:04:10',
    ])
    // No number without its unit.
    const lengths = [1_860_000, 5_040_000, 7_800_000, 7_200_000, 172_800_000]
    expect(lengths.map(shortLength)).toEqual(['31 min', '84 min', '2 h 10\u00a0min', '2 h', '2 d'])
  })

  test('what is older than today, or a week ahead, has its date; another year is said', () => {
    const f = formatOf({ timeZone: 'Europe/Madrid' })
    const noon = Date.UTC(2026, 10, 25, 12)
    const days = (n: number) => f.timeAndDay(noon, noon + n * 86_400_000)
    expect([days(1), days(20), days(-7)]).toEqual(Array(3).fill('13:00 Wed 25 Nov'))
    expect([days(60), days(-400)]).toEqual(Array(2).fill('13:00 Wed, 25 Nov 2026'))
    // A can that keeps for a year is not good until today.
    expect(f.date(noon, noon)).toBe('Wed 25 Nov')
    expect(f.date(noon, noon - 366 * 86_400_000)).toBe('Wed, 25 Nov 2026')
    const inSpanish = formatOf({ timeZone: 'Europe/Madrid', language: 'es' })
    expect(inSpanish.date(noon, noon - 366 * 86_400_000)).toBe('mié, 25 de nov de 2026')
  })

  test('a difference of temperature is converted without the 32', () => {
    const f = formatOf({ units: { temperature: 'F', volume: 'flOz' } })
    expect(f.degrees(3)).toBe('5 °F')
    expect(f.temperature(20)).toBe('68 °F')
    expect(f.volume(29.5735)).toBe('1.00 fl oz')
    expect(formatOf({}).temperature(23.4)).toBe('23.5 °C')
  })

  test('clock times in the shop’s zone, with the weekday on another day', () => {
    const f = formatOf({ timeZone: 'Europe/Madrid' })
    const noon = Date.UTC(2026, 10, 25, 12)
    expect(f.time(noon)).toBe('13:00')
    expect(f.timeAndDay(noon, noon)).toBe('13:00')
    expect(f.timeAndDay(noon, noon - 86_400_000)).toBe('13:00 +1')
    expect(f.timeAndDay(noon, noon - 6 * 86_400_000)).toBe('13:00 Wed')
    expect(formatOf({ timeZone: 'America/Chicago', clock: '12h' }).time(noon)).toBe('6:00 AM')
  })

  test('both languages have every word', () => {
    // What is neither a text nor makes one is grammar, each language's own.
    const names = (words: object): string[] =>
      Object.entries(words).flatMap(([key, word]) => {
        if (typeof word === 'string' || typeof word === 'function') return [key]
        return typeof word === 'object' && word !== null
          ? names(word).map((name) => `${key}.${name}`)
          : []
      })
    // English has the server's own sentences for refusals and calculators; Spanish needs its own.
    const isOwn = (name: string) => !/^(refused|calculator\.about)\./.test(name)
    expect(names(es).filter(isOwn).sort()).toEqual(names(en).filter(isOwn).sort())
  })
})

test('an answer is what its status and body say', () => {
  expect(meant('c1', 200, { entries: [] })).toEqual({ kind: 'kept', id: 'c1', entries: [] })
  expect(meant('c1', 400, { error: { field: 'data.rh', message: 'no' } })).toMatchObject({
    kind: 'wrong',
  })
  expect(
    meant('c1', 503, { error: { code: 'notStored', field: '', message: 'The disk is full.' } }),
  ).toEqual({
    kind: 'away',
  })
})
