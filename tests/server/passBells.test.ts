import { describe, expect, test } from 'vitest'
import type { CommandType } from '../../machines/commands.ts'
import { dueBells } from '../../machines/deadlines.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { command, DOOR, JOB, ROUTE, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop } from '../support/serverShop.ts'
import { BASE } from '../support/sheets.ts'

/** A pass over panels of two jobs has one bell. It rang in the name of one panel, whose job may be over long before the other. */

const DAY = 24 * 60 * MINUTE
const OTHER_JOB = 'VANJAB33'
const HOOD = 'HHHH2222'
const FREE_CUP = 'FFFF2222'
type Pass = readonly [type: CommandType, bell: string]
/** What the pass was, and its bell. */
const BELLS = [
  ['FinishCoat', 'coatReady:pass'],
  ['StartCoat', 'coatOpen:pass'],
] as const satisfies readonly Pass[]
const override = { reason: 'Collected' }

/** The shop after the bell of the pass, with what is due and has not rung at a moment. */
async function rungShop([type, bell]: Pass) {
  const shop = await openTestShop({ store: memoryStore(), snapshotEvery: 1 })
  const press = async (id: string, type: string, data: object) => {
    const answer = await shop.shops.ownWriter.handle(command(id, type, data))
    expect(answer, JSON.stringify(answer.body)).toMatchObject({ status: 200 })
  }
  for (const wish of vanInWork) await shop.shops.ownWriter.handle(wish)
  await press('zone', 'SaveZone', { zone: 'booth', name: 'Booth', clearanceMin: 30 })
  await press('other', 'OpenJob', { job: OTHER_JOB, title: 'Estate car, hood' })
  const hood = { job: OTHER_JOB, panel: HOOD, name: 'Hood', operation: 'repair', areaM2: 1 }
  await press('hood', 'AddPanel', { ...hood, route: ROUTE })
  await press('free', 'MixCup', { cup: FREE_CUP, sheet: BASE.sheet, totalMl: 300 })
  await press('pass', type, { panels: [DOOR, HOOD], cup: FREE_CUP })
  const due = () => dueBells(shop.shops.ownWriter.state(), shop.clock.now()).map(({ key }) => key)
  shop.clock.advance(60 * MINUTE)
  expect(due()).toContain(bell)
  await press('ring', 'RingBell', { key: bell, wasHeard: true })
  expect(due()).not.toContain(bell)
  let days = 0
  const daysLater = async (count: number) => {
    shop.clock.advance(count * DAY)
    days += 1
    // What is over is told from open work with every entry here.
    for (const n of [1, 2])
      await press(`air-${days}-${n}`, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  }
  return { shop, press, due, daysLater }
}

describe.each(BELLS)('after %s, %s', (...pass) => {
  const [, bell] = pass
  test.each([
    [JOB, DOOR],
    [OTHER_JOB, HOOD],
  ])('does not ring again when job %s is over and the other goes on', async (job, panel) => {
    const { shop, press, due, daysLater } = await rungShop(pass)
    await press('close', 'CloseJob', { job, override })
    await daysLater(3)
    expect(Object.keys(shop.shops.ownWriter.state().things.panel)).not.toContain(panel)
    expect(due()).not.toContain(bell)
  })

  test.each([JOB, OTHER_JOB])('nor when both are over and job %s is reopened', async (job) => {
    const { shop, press, due, daysLater } = await rungShop(pass)
    await press('close-1', 'CloseJob', { job: JOB, override })
    await press('close-2', 'CloseJob', { job: OTHER_JOB, override })
    await daysLater(9)
    expect(shop.shops.ownWriter.state().things.panel).toEqual({})
    await press('reopen', 'ReopenJob', { job })
    expect(due()).not.toContain(bell)
    await daysLater(1)
    expect(due()).not.toContain(bell)
  })
})
