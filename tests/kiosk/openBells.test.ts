import { expect, test } from 'vitest'
import { openBells } from '../../kiosk/bells/openBells.ts'
import { provisional } from '../../kiosk/commands/provisional.ts'
import { linesOf } from '../../kiosk/jobs/historyLines.ts'
import { namesIn } from '../../kiosk/jobs/names.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { bellOf } from '../../machines/bell/fold.ts'
import { CLEAR_CUP, CLEAR_ONLY, coat, DOOR, keyOf, vanWith } from '../support/given.ts'
import { CLEAR } from '../support/sheets.ts'
import { minute, type Shop } from '../support/shop.ts'

const POT = `potOver:${CLEAR_CUP}`
const cleared = (): Shop => coat(vanWith(CLEAR_ONLY, [CLEAR]), CLEAR_CUP, 1, 5)

test('a bell whose deadline moved later by over a minute is new to every kiosk, however the last was answered', () => {
  const shop = cleared().at(15)
  const key = keyOf(shop, 'coatReady')
  shop.do('RingBell', { key })
  shop.do('AcknowledgeBell', { key })
  expect(openBells(shop.state).known(key)).toMatchObject({ isAcknowledged: true })
  // The second half of the flash was colder than anybody knew.
  const at = minute(10)
  shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }, { at: minute(5), enteredAt: at })
  shop.do('ReadClimate', { zone: 'booth', airC: 10, rh: 0.5 }, { at, enteredAt: at })
  expect(openBells(shop.state).known(key)).toBeUndefined()
})

test('a bell is where its panel or cup is, so that a kiosk knows its own; a gun is nowhere', () => {
  const shop = cleared()
  shop.do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP })
  const zones = new Map(openBells(shop.state).bells.map(({ kind, zone }) => [kind, zone]))
  expect(zones.get('coatReady')).toBe('booth')
  expect(zones.get('potOver')).toBe('booth')
  expect(zones.get('gunDue')).toBeUndefined()
  shop.do('MovePanel', { panel: DOOR, zone: 'bay-2' })
  const moved = openBells(shop.state).bells.find(({ kind }) => kind === 'coatReady')
  expect(moved?.zone).toBe('bay-2')
})

test('the shop’s own rules and a flood that the log knows of reach the ringer', () => {
  const shop = cleared()
  shop.do('ChangeSettings', { bells: { escalateAfterS: { first: 30, second: 45 }, riseDb: 2 } })
  shop.do('ReportFlood', { isOn: true, count: 12 }, { device: 'kiosk-1', seq: 1 })
  expect(openBells(shop.state)).toMatchObject({
    rules: { escalateMs: [30_000, 45_000], riseDb: 2 },
    isFloodKnown: true,
  })
})

test('a kiosk without its server keeps what its bells did, in order, and counts on it at once', () => {
  const shop = cleared().at(61)
  const at = shop.now
  const commands = [
    { type: 'RingBell', data: { key: POT } },
    { type: 'EscalateBell', data: { key: POT, to: 'lead' } },
    { type: 'HoldBell', data: { key: POT } },
    { type: 'ReportFlood', data: { isOn: true, count: 11 } },
  ] as const
  const kept = commands.map(({ type, data }, n) => ({
    command: { id: `c-${n}`, type, data, enteredAt: at, clockOffsetMs: 0 },
    seq: n + 1,
    inDoubt: false,
    trouble: null,
  }))
  const state = provisional()(shop.state, kept, 'kiosk-1')
  expect(bellOf(state, POT)).toMatchObject({
    rangAt: at,
    reached: [{ at, to: 'lead', shown: true }],
    heldUntilMs: at + 60_000,
  })
  expect(openBells(state).isFloodKnown).toBe(true)
})

test.each([
  [
    'en',
    en,
    [
      'Bell called more people · cup CCCC · the lead · pot life over',
      'the lead · shop closed: in the log only',
    ],
    'Bell held: it rang again and again · cup CCCC · pot life over',
  ],
  [
    'es',
    es,
    [
      'El timbre llamó a más gente · vaso CCCC · el jefe de taller',
      'taller cerrado: solo en el registro',
    ],
    'Timbre callado: sonaba una y otra vez',
  ],
] as const)(
  'the history says how far a bell reached and that it was held: %s',
  (_, words, [open, shut], heldIs) => {
    const told = (settings: object) => {
      const shop = cleared()
      shop.do('ChangeSettings', settings)
      shop.at(61).do('RingBell', { key: POT })
      shop.do('EscalateBell', { key: POT, to: 'lead' })
      shop.do('HoldBell', { key: POT })
      const ofBell = shop.entries.filter(({ type }) => /^Bell(Escalated|Held)/.test(type))
      return linesOf(ofBell, { words, format: formatOf({}), names: namesIn(shop.state) }).map(
        ({ what }) => what,
      )
    }
    expect(told({ timeZone: 'UTC' })[0]).toContain(open)
    expect(told({ timeZone: 'UTC' })[1]).toContain(heldIs)
    const closed = { timeZone: 'UTC', hours: { opensAt: '03:00', closesAt: '03:01' } }
    expect(told(closed)[0]).toContain(shut)
  },
)
