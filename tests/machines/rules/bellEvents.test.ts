import { describe, expect, test } from 'vitest'
import { bellOf } from '../../../machines/bell/fold.ts'
import { devicesOf } from '../../../machines/devices/fold.ts'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  keyOf,
  refusalOf,
  vanWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, Shop } from '../../support/shop.ts'

const POT = `potOver:${CLEAR_CUP}`
const NEAR = `potNear:${CLEAR_CUP}`
const onKiosk = (n: number) => ({ device: `kiosk-${n}`, seq: n })

/** A van whose clear went past its pot life at minute 60, at which its bell rang. */
function rung(settings: object = {}): Shop {
  const shop = coat(vanWith(CLEAR_ONLY, [CLEAR]), CLEAR_CUP, 1, 5)
  if (Object.keys(settings).length > 0) shop.do('ChangeSettings', settings)
  shop.at(60).do('RingBell', { key: POT })
  return shop.at(61)
}

describe('an unacknowledged bell', () => {
  test('reaches further, and is logged once for each reach, however many kiosks report it', () => {
    const shop = rung()
    expect(shop.do('EscalateBell', { key: POT, to: 'lead' }, onKiosk(1))).toMatchObject([
      {
        type: 'BellEscalated',
        cup: CLEAR_CUP,
        data: { key: POT, bell: 'potOver', to: 'lead', shown: true },
      },
    ])
    expect(shop.do('EscalateBell', { key: POT, to: 'lead' }, onKiosk(2))).toEqual([])
    expect(shop.at(63).do('EscalateBell', { key: POT, to: 'shop' }, onKiosk(2))).toHaveLength(1)
    expect(bellOf(shop.state, POT)?.reached.map(({ to }) => to)).toEqual(['lead', 'shop'])
  })

  test('does not before it has rung, and stops at once when it is acknowledged', () => {
    const shop = coat(vanWith(CLEAR_ONLY, [CLEAR]), CLEAR_CUP, 1, 5).at(60)
    const escalate = () => refusalOf(shop.send('EscalateBell', { key: POT, to: 'lead' })).message
    expect(escalate()).toBe(`Bell ${POT} is not due. It has not rung.`)
    shop.do('RingBell', { key: POT })
    shop.at(61).do('AcknowledgeBell', { key: POT })
    expect(escalate()).toBe(`Bell ${POT} is not due. It was acknowledged.`)
  })

  test('is kept where a kiosk without a server reports late what was so before the answer', () => {
    const shop = rung().at(70)
    shop.do('AcknowledgeBell', { key: POT })
    const told = (atMin: number) => ({ at: minute(atMin), enteredAt: minute(atMin) })
    const say = (atMin: number) =>
      shop.at(80).send('EscalateBell', { key: POT, to: 'lead' }, told(atMin))
    expect('drafts' in say(71)).toBe(false)
    expect('drafts' in say(61)).toBe(true)
  })

  test.each([
    ['coatReady', 'zone'],
    ['coatReady', 'lead'],
    ['potNear', 'shop'],
    ['potOver', 'zone'],
  ])('%s never rises to %s: its kind does not', (kind, to) => {
    const shop = coat(vanWith(CLEAR_ONLY, [CLEAR]), CLEAR_CUP, 1, 5).at(60)
    const key = keyOf(shop, kind)
    shop.do('RingBell', { key })
    expect(refusalOf(shop.send('EscalateBell', { key, to })).code).toBe('bellNotDue')
  })

  test('outside hours it reaches further in the log only, and again when the shop opens', () => {
    // The shop's day begins at 08:00 by these examples; minute 61 is 09:01.
    const shop = rung({ timeZone: 'UTC', hours: { opensAt: '10:00', closesAt: '18:00' } })
    const say = () => shop.do('EscalateBell', { key: POT, to: 'lead' }).map((d) => d.data.shown)
    expect(say()).toEqual([false])
    expect(say()).toEqual([])
    shop.at(120)
    expect(say()).toEqual([true])
    expect(say()).toEqual([])
  })

  test('a bell that rings again starts with its first reach', () => {
    const shop = rung()
    shop.do('EscalateBell', { key: POT, to: 'lead' })
    const [rang] = shop.entries.filter(({ type }) => type === 'BellRang')
    shop.do('VoidEntry', { entry: rang?.id, reason: 'MISTAP' })
    shop.at(62).do('RingBell', { key: POT })
    expect(bellOf(shop.state, POT)?.reached).toEqual([])
  })
})

describe('a bell that calls again and again', () => {
  test('is recorded once as a nuisance while it is held for a minute', () => {
    const shop = rung()
    expect(shop.do('HoldBell', { key: POT }, onKiosk(1))).toMatchObject([
      {
        type: 'BellHeld',
        cup: CLEAR_CUP,
        data: { key: POT, bell: 'potOver', untilMs: minute(62) },
      },
    ])
    expect(shop.do('HoldBell', { key: POT }, onKiosk(2))).toEqual([])
    expect(shop.at(62).do('HoldBell', { key: POT }, onKiosk(2))).toHaveLength(1)
  })

  test('must have rung', () => {
    const shop = coat(vanWith(CLEAR_ONLY, [CLEAR]), CLEAR_CUP, 1, 5).at(60)
    expect(shop.refused('HoldBell', { key: NEAR })).toBe('bellNotDue')
  })
})

describe('a flood', () => {
  const floods = (shop: Shop) => shop.entries.filter(({ type }) => type === 'BellFlood')
  const say = (shop: Shop, isOn: boolean, n: number) =>
    shop.do('ReportFlood', { isOn, count: 11 }, onKiosk(n)).map(({ data }) => data)

  test('begins and ends once for each kiosk, whatever another one says', () => {
    const shop = new Shop()
    expect(say(shop, true, 1)).toEqual([{ isOn: true, count: 11 }])
    expect(say(shop, true, 1)).toEqual([])
    expect(say(shop.at(1), false, 2)).toEqual([])
    expect(say(shop, true, 2)).toHaveLength(1)
    expect(say(shop.at(2), false, 1)).toHaveLength(1)
    expect(devicesOf(shop.state).floods.map(({ device, isOn }) => [device, isOn])).toEqual([
      ['kiosk-2', true],
      ['kiosk-1', false],
    ])
    expect(floods(shop)).toHaveLength(3)
  })

  test('that a kiosk reports late is judged by what was known then', () => {
    const shop = new Shop().at(30)
    say(shop, true, 1)
    const before = { at: minute(20), enteredAt: minute(20), device: 'kiosk-1', seq: 2 }
    expect(shop.do('ReportFlood', { isOn: true, count: 12 }, before)).toHaveLength(1)
  })
})

describe('an answer that comes when the deadline is gone', () => {
  test.each([
    ['AcknowledgeBell', {}],
    ['SnoozeBell', { minutes: 5 }],
  ])('is still of the panel and the job that the bell rang for: %s', (command, more) => {
    const shop = coat(vanWith(CLEAR_ONLY, [CLEAR]), CLEAR_CUP, 1, 5).at(15)
    addPanel(shop, CLEAR_ONLY, { panel: WING, name: 'Side' })
    const key = keyOf(shop, 'coatReady')
    shop.do('RingBell', { key })
    shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(shop.at(16).do(command, { key, ...more })).toMatchObject([{ panel: DOOR, job: JOB }])
  })
})
