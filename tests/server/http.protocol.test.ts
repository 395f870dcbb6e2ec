import { describe, expect, test } from 'vitest'
import { PROTOCOL } from '../../machines/contract.ts'
import { command, JOB } from '../support/serverCommands.ts'
import { openTestShop, START_MS } from '../support/serverShop.ts'

const COMMANDS = '/api/commands'
const openJob = (id: string, job = JOB) => command(id, 'OpenJob', { job, title: 'Delivery van' })

describe('a command of another protocol', () => {
  const addPanel = (id: string, coats: unknown) => ({
    ...command(id, 'AddPanel', {
      ...{ job: JOB, panel: 'DRREAR22', name: 'Rear door', operation: 'repair' },
      route: [{ stage: 'base', coats }],
    }),
    ...{ device: 'OLDDEVICE2222222', seq: 7, enteredAt: START_MS - 1_000, clockOffsetMs: 250 },
  })

  test('is recorded as it was meant where it is older, and known again when it is sent again', async () => {
    const shop = await openTestShop()
    await shop.post(COMMANDS, openJob('a'))
    const first = await shop.post(COMMANDS, addPanel('old', 2))
    expect(first).toMatchObject({
      status: 200,
      body: { entries: [{ type: 'PanelAdded', data: { route: [{ coats: { planned: 2 } }] } }] },
    })
    expect(await shop.post(COMMANDS, addPanel('old', 2))).toEqual(first)
    // Another body under the same id, also where it means the same.
    expect(await shop.post(COMMANDS, addPanel('old', { planned: 2 }))).toMatchObject({
      status: 409,
      body: { refusal: { code: 'commandIdReused' } },
    })
  })

  test('is answered in words where it is newer, and those beside it are recorded', async () => {
    const shop = await openTestShop()
    const newer = { ...command('b', 'SendDrone', {}), protocol: 99 }
    const answer = await shop.post(COMMANDS, [openJob('a'), newer, openJob('c', 'DDRJAB22')])
    expect(answer.body).toMatchObject([
      { status: 200 },
      {
        status: 400,
        body: {
          error: {
            code: 'newestProtocol',
            field: 'protocol',
            message: `protocol: 99 won't work. Use protocol ${PROTOCOL} or older.`,
          },
        },
      },
      { status: 200 },
    ])
    const spanish = await shop.app.request(COMMANDS, {
      method: 'POST',
      headers: { 'Accept-Language': 'es' },
      body: JSON.stringify(newer),
    })
    expect((await spanish.json()).error.message).toBe(
      `protocol: 99 no sirve. Use el protocolo ${PROTOCOL} o uno anterior.`,
    )
    expect(shop.shops.ownWriter.state().head).toBe(3)
  })
})
