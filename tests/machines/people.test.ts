import { describe, expect, test } from 'vitest'
import { contextOf } from '../../machines/state.ts'
import { CLEAR } from '../support/sheets.ts'
import { Shop } from '../support/shop.ts'

const JOB = 'VANREAR2'
const PANEL = 'REARQTR2'
const CUP = 'K7QDM2XV'
const PHOTO = 'a'.repeat(64)

function readyShop(): Shop {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: CLEAR })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  shop.do('AddPanel', {
    job: JOB,
    panel: PANEL,
    name: 'Rear quarter',
    operation: 'clear-only',
    route: [{ stage: 'clear', sheet: CLEAR.sheet }],
  })
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300 })
  return shop
}
const start = { panels: [PANEL], cup: CUP }

describe('people', () => {
  test('until a shop has people, a coat starts without a name', () => {
    readyShop().do('StartCoat', start)
  })

  test('from then on a coat needs the name of a person who has not left', () => {
    const shop = readyShop()
    shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
    shop.do('AddPerson', { person: 'ben', name: 'B. Lead', role: 'lead' })
    shop.do('RetirePerson', { person: 'ben' })
    expect(shop.refused('StartCoat', start)).toBe('noPerson')
    expect(shop.refused('StartCoat', start, { by: 'ben' })).toBe('noPerson')
    const [started] = shop.do('StartCoat', start, { by: 'ana' })
    expect(started?.by).toBe('ana')
  })

  test('a queued start without a person is kept, and says so', () => {
    const shop = readyShop()
    shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
    const at = shop.now
    shop.at(1)
    const [started] = shop.do('StartCoat', start, { at, enteredAt: at })
    expect(started?.outside).toMatchObject([{ code: 'noPerson', value: null }])
  })

  test('a person leaves once, and an unknown one never', () => {
    const shop = readyShop()
    expect(shop.refused('RetirePerson', { person: 'ana' })).toBe('unknownThing')
  })
})

describe('notes and photos', () => {
  const notes = (shop: Shop) => contextOf(shop.state, 'job', JOB)?.notes

  test('are in the job’s record, for the job or one of its panels, also when it is closed', () => {
    const shop = readyShop()
    shop.do('AddNote', { job: JOB, text: 'Customer waits until Friday' })
    shop.do('AddPhoto', { job: JOB, panel: PANEL, photo: PHOTO, caption: 'a run, lower edge' })
    shop.do('CloseJob', { job: JOB, override: { reason: 'CUSTOMER_CHANGE' } })
    shop.do('AddNote', { job: JOB, panel: PANEL, text: 'Came back with water spots' })
    expect(notes(shop)).toMatchObject([
      { panel: null, text: 'Customer waits until Friday', photo: null },
      { panel: PANEL, text: 'a run, lower edge', photo: PHOTO },
      { panel: PANEL, text: 'Came back with water spots' },
    ])
  })

  test('of a panel of another job, or of an unknown job, are refused', () => {
    const shop = readyShop()
    shop.do('OpenJob', { job: 'VANFRNT2', title: 'Another van' })
    expect(shop.refused('AddNote', { job: 'VANFRNT2', panel: PANEL, text: 'x' })).toBe(
      'unknownThing',
    )
    expect(shop.refused('AddPhoto', { job: 'VANBACK2', photo: PHOTO })).toBe('unknownThing')
    expect(() => shop.parse('AddPhoto', { job: JOB, photo: 'abc' })).toThrow('SHA-256')
  })

  test('a note that was a mistake is voided and gone from the state', () => {
    const shop = readyShop()
    const [note] = shop.do('AddNote', { job: JOB, text: 'wrong van' })
    shop.do('VoidEntry', { entry: note?.id, reason: 'WRONG_PART' })
    expect(notes(shop)).toEqual([])
  })
})

test('a compressor, opening hours and a sound test are taken as they are typed', () => {
  const shop = readyShop()
  shop.do('SaveAirSupply', { air: 'compressor', receiverL: 200, freeAirLpm: 250, cutOutKpa: 1000 })
  expect(shop.state.things.air.compressor?.context).toMatchObject({ spec: { receiverL: 200 } })
  shop.do('ChangeSettings', { hours: { opensAt: '07:30', closesAt: '18:00' } })
  expect(() =>
    shop.parse('ChangeSettings', { hours: { opensAt: '7.30', closesAt: '18:00' } }),
  ).toThrow('07:30')
  const [tested] = shop.do('TestSound', { pattern: 'A', heard: true, place: 'booth window' })
  expect(tested?.type).toBe('SoundTested')
})
