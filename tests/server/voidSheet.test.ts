import { describe, expect, test } from 'vitest'
import { addPanel, command, DOOR, JOB } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, TestClock, type TestShop } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

/**
 * Whether a sheet may be voided is decided by the log (it is refused where live facts depend on it),
 * and not by what the server still holds.
 */

const WEEK = 7 * 24 * 60 * MINUTE
type Told = readonly [type: string, data: object]

/** Sheets, a panel whose route names both, and what became of it. No cup was ever mixed. */
async function shopThat(...more: readonly Told[]): Promise<TestShop> {
  const shop = await openTestShop({ clock: new TestClock() })
  const past = [
    command('s-base', 'SaveSheet', { sheet: BASE }),
    command('s-clear', 'SaveSheet', { sheet: CLEAR }),
    command('j-open', 'OpenJob', { job: JOB, title: 'Delivery van, rear corner' }),
    addPanel('p-door', DOOR, 'Rear door'),
    ...more.map(([type, data], i) => command(`m${i}`, type, data)),
  ]
  for (const wish of past)
    expect(await shop.shops.ownWriter.handle(wish)).toMatchObject({ status: 200 })
  return shop
}

/** The same log under a server that was restarted, a week later: it holds open work only. */
async function startedAgain({ shops, store, clock }: TestShop): Promise<TestShop> {
  clock.advance(WEEK)
  await shops.ownWriter.handle(command('air', 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }))
  await shops.close()
  return await openTestShop({ store, clock })
}

const voided = ({ shops }: TestShop, id: string) =>
  shops.ownWriter.handle(command(id, 'VoidEntry', { entry: 's-base.0', reason: 'Typed in twice' }))

const closed: Told = ['CloseJob', { job: JOB, override: { reason: 'Called off' } }]
const clearOnly: Told = [
  'SetRoute',
  { panel: DOOR, route: [{ stage: 'clear', sheet: CLEAR.sheet }] },
]

describe('a sheet that only the route of a closed job names', () => {
  test('is not voided while the server still holds that job', async () => {
    const shop = await shopThat(closed)
    expect(await voided(shop, 'v')).toMatchObject({
      status: 409,
      body: { refusal: { code: 'entryInUse' } },
    })
  })

  test('is not voided either after the server has evicted it', async () => {
    const shop = await startedAgain(await shopThat(closed))
    expect(shop.shops.ownWriter.state().things.panel).toEqual({})
    expect(await voided(shop, 'v')).toMatchObject({
      status: 409,
      body: {
        refusal: { code: 'entryInUse', params: { limit: { why: 'used', name: BASE.name } } },
      },
    })
  })
})

test.each<[string, readonly Told[]]>([
  ['whose route names another sheet since', [clearOnly, closed]],
  ['that was taken off the job', [['RemovePanel', { panel: DOOR }], closed]],
])('a panel %s keeps no sheet, before and after', async (_, more) => {
  expect(await voided(await shopThat(...more), 'v')).toMatchObject({ status: 200 })
  const again = await startedAgain(await shopThat(...more))
  expect(await voided(again, 'v')).toMatchObject({ status: 200 })
})
