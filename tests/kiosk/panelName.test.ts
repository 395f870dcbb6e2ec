import { expect, test } from 'vitest'
import { jobName, ownName } from '../../kiosk/commands/panelName.ts'
import { subjectOf } from '../../kiosk/commands/queuedCommand.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { nextLine, nextUp } from '../../kiosk/lanes/nextUp.ts'
import { en } from '../../kiosk/words/all.ts'
import {
  addPanel,
  BASE_CLEAR,
  BASE_CUP,
  DOOR,
  JOB,
  SILL,
  shopWith,
  vanWith,
  WING,
} from '../support/given.ts'
import { minute } from '../support/shop.ts'

/** Panels of the same name on several vehicles, and what tells them apart. */

const TAXI = 'GQ2FJAB2'
const LONG = 'Rear damage, insurance case of'

/** A van with a hood and a sill, and another vehicle with a hood. */
function twoHoods(van: object, other: object) {
  const shop = vanWith(BASE_CLEAR)
  shop.do('OpenJob', { job: TAXI, title: 'Taxi ABC 123', ...other })
  addPanel(shop, BASE_CLEAR, { job: TAXI, panel: WING, name: 'Hood' })
  shop.do('OpenJob', { job: 'VANJAB33', title: 'Van DEF 456', ...van })
  addPanel(shop, BASE_CLEAR, { job: 'VANJAB33', panel: SILL, name: 'hood' })
  return shop
}

test('what comes next names the job of a panel whose name another open job has too', () => {
  const shop = twoHoods({}, {})
  shop.do('StartCoat', { panels: [WING], cup: BASE_CUP })
  const line = () =>
    nextUp(shop.state, minute(0))
      .filter(({ thing }) => thing.id === WING)
      .map((due) => nextLine(shop.state, due, en))
  expect(line()).toEqual(['Hood (Taxi ABC 123): was this coat finished?'])
  shop.do('RemovePanel', { panel: SILL })
  expect(line()).toEqual(['Hood: was this coat finished?'])
})

test('what waits to be sent names it too, and leaves alone a name that nothing else has', () => {
  const { state } = twoHoods({}, {})
  const waits = (panels: string[]) =>
    subjectOf(state, {
      seq: 1,
      inDoubt: false,
      trouble: null,
      command: {
        id: 'x',
        protocol: 1,
        type: 'FinishCoat',
        data: { panels },
        enteredAt: 0,
        clockOffsetMs: 0,
      },
    })
  expect(waits([SILL])).toBe('hood (Van DEF 456)')
  expect(waits([DOOR])).toBe('Rear door')
})

test.each([
  [{ title: `${LONG} January` }, { title: `${LONG} May` }, 'GQ2F · '],
  [
    { title: LONG, vehicle: 'Van, DEF 456' },
    { title: LONG, vehicle: 'Taxi, ABC 123' },
    'Taxi, ABC 123 · ',
  ],
  [{ title: LONG, vehicle: 'Van' }, { title: LONG, vehicle: 'Van' }, 'GQ2F · '],
  [{ title: 'Another' }, { title: LONG }, ''],
])('a job is read by what no other open job begins with: %o beside %o', (van, taxi, first) => {
  const { state } = twoHoods(van, taxi)
  const lane = lanesOf(state, minute(0)).find(({ panel }) => panel === WING)
  expect(lane?.jobTitle).toBe(`${first}${taxi.title}`)
  expect(lanesOf(state, minute(0)).find(({ job }) => job === JOB)?.jobTitle).toBe(
    'Delivery van, rear corner',
  )
})

test('a job without a vehicle is not called by that', () => {
  const shop = shopWith()
  shop.do('OpenJob', { job: TAXI, title: LONG })
  shop.do('OpenJob', { job: 'VANJAB33', title: LONG, vehicle: 'Van, DEF 456' })
  expect(jobName(shop.state, TAXI)).toBe(`GQ2F · ${LONG}`)
  expect(jobName(shop.state, 'VANJAB33')).toBe(`Van, DEF 456 · ${LONG}`)
})

test('a part that is added twice to one job is numbered', () => {
  expect(ownName('Bracket', ['Hood'])).toBe('Bracket')
  expect(ownName('Bracket', ['bracket ', 'Hood'])).toBe('Bracket 2')
  expect(ownName('Bracket', ['Bracket', 'Bracket 2'])).toBe('Bracket 3')
  // The number is not behind what is cut off beside a lane.
  const long = 'Bracket of the left mirror, upper'
  const second = ownName(long, [long])
  expect(second).toBe('Bracket of the left… 2')
  expect(ownName(long, [long, second])).toBe('Bracket of the left… 3')
})
