import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import { devicesOf } from '../../../machines/devices/fold.ts'
import type { PanelContext } from '../../../machines/panel/context.ts'
import { contextOf } from '../../../machines/state.ts'
import { type ClockedServer, clockedServer, TestComputer } from '../../support/clockedServer.ts'
import { CUP, DOOR, vanInWork } from '../../support/serverCommands.ts'
import { dataFolder } from '../../support/serverProcess.ts'
import { MINUTE, START_MS } from '../../support/serverShop.ts'
import { CLEAR } from '../../support/sheets.ts'

/** The real app over HTTP, on a computer whose clocks a test moves. */

const HOUR = 60 * MINUTE
let place: ReturnType<typeof dataFolder>
let computer: TestComputer
let server: ClockedServer
beforeEach(async () => {
  place = dataFolder()
  computer = new TestComputer()
  server = await clockedServer(place.folder, computer)
  await send(...vanInWork)
})
afterEach(async () => {
  await server.stop()
  place.remove()
})

async function send(...commands: readonly object[]) {
  const { body } = await server.post('/api/commands', commands)
  expect(body).toEqual(commands.map(() => expect.objectContaining({ status: 200 })))
  return body as { body: { entries: { at: number; type: string }[] } }[]
}

/** What a kiosk sends: its presses carry its own time, which it heard `agoMs` ago. */
let count = 0
function press(type: string, data: object, enteredAt: number) {
  count += 1
  return { id: `press-${count}`, type, data, enteredAt, device: 'kiosk-1', seq: count }
}

const panel = (id: string) => contextOf(server.state(), 'panel', id) as PanelContext
const now = async () => (await server.get('/api/state')).body.serverTime as number
const standing = async () => (await server.get('/api/state')).body.clock
const coat = { panels: [DOOR], cup: CUP }

const isOneFinishedCoat = (id: string, atLeastMs: number) => {
  const { open, coats } = panel(id)
  expect(open).toBeNull()
  expect(coats).toHaveLength(1)
  const lengths = coats.map(({ startedAt, finishedAt }) => finishedAt - startedAt)
  expect(Math.min(...lengths)).toBeGreaterThanOrEqual(atLeastMs)
}

describe('the clock of the computer steps back two minutes in the middle of a coat', () => {
  test('the coat is finished, no other appears, and every press of a kiosk is taken', async () => {
    await send(press('StartCoat', coat, await now()))
    computer.pass(MINUTE)
    computer.step(-2 * MINUTE)
    computer.pass(5_000)
    // The kiosk still carries the time that it had heard before, at full speed.
    const carried = START_MS + MINUTE + 5_000
    await send(press('ReadClimate', { zone: 'booth', airC: 24, rh: 0.4 }, carried))
    await send(press('FinishCoat', coat, carried))
    isOneFinishedCoat(DOOR, 30_000)
    expect(devicesOf(server.state()).clock).toMatchObject([
      // Seen at the next look, a second later.
      { kind: 'jumped', fromMs: START_MS + MINUTE + 1_000, toMs: START_MS - MINUTE + 1_000 },
    ])
  })

  test('also for a client that gives no time of its own', async () => {
    await send({ id: 's', type: 'StartCoat', data: coat })
    computer.pass(MINUTE)
    computer.step(-2 * MINUTE)
    await send({ id: 'f', type: 'FinishCoat', data: coat })
    isOneFinishedCoat(DOOR, 30_000)
    // Four minutes on, the shop's time and the computer's agree again.
    computer.pass(4 * MINUTE)
    expect(await now()).toBe(computer.wallMs)
    expect(await standing()).toMatchObject({ doubt: null })
  })

  test('a queue that waited on a kiosk all that time is taken, in order', async () => {
    computer.pass(MINUTE)
    computer.step(-2 * MINUTE)
    // Away from the server for the whole of the slow four minutes: two minutes ahead of it.
    computer.pass(4 * MINUTE)
    const own = START_MS + 5 * MINUTE
    expect(await now()).toBe(own - 2 * MINUTE)
    await send(
      press('StartCoat', coat, own - 3 * MINUTE),
      press('FinishCoat', coat, own - 10_000),
      press('ReadClimate', { zone: 'booth', airC: 24, rh: 0.4 }, own),
    )
    isOneFinishedCoat(DOOR, 30_000)
    expect(panel(DOOR).coats[0]?.finishedAt).toBeLessThanOrEqual(await now())
  })
})

describe('the clock of the computer goes forward an hour and back', () => {
  test('nothing is moved by it, and a queue that waits meanwhile is taken as pressed', async () => {
    const started = await now()
    await send(press('StartCoat', coat, started))
    computer.step(HOUR)
    computer.pass(MINUTE)
    expect(await now()).toBe(started + MINUTE)
    expect(await standing()).toMatchObject({ doubt: 'jumped', wallMs: started + HOUR + MINUTE })
    expect((await server.get('/healthz')).body.clock).toMatchObject({
      code: 'notConfirmed',
      params: { doubt: 'jumped', nowMs: started + MINUTE, wallMs: started + HOUR + MINUTE },
      message: expect.stringMatching(/jumped by more than five minutes\. .*Confirm the time/),
    })
    const queued = [
      press('FinishCoat', coat, started + 30_000),
      press('ReadClimate', { zone: 'booth', airC: 24, rh: 0.4 }, started + 45_000),
    ]
    computer.step(-HOUR)
    computer.pass(1_000)
    expect(await standing()).toMatchObject({ doubt: null })
    expect((await server.get('/healthz')).body.clock).toEqual({ code: 'ok' })
    const [finish] = await send(...queued)
    expect(finish?.body.entries[0]).toMatchObject({ at: started + 30_000 })
    isOneFinishedCoat(DOOR, 20_000)
    expect(devicesOf(server.state()).clock.map(({ fromMs, toMs }) => toMs - fromMs)).toEqual([
      HOUR,
      -HOUR,
    ])
  })

  test('a person may confirm the computer’s time, or the shop’s', async () => {
    const started = await now()
    computer.step(HOUR)
    await send(press('ConfirmClock', { nowMs: computer.wallMs }, started))
    expect(await now()).toBe(computer.wallMs)
    computer.step(-HOUR)
    // Kiosks hear at once of the time that a person says, and even one that has not is answered.
    await send(press('ConfirmClock', { nowMs: started }, started + HOUR))
    expect(await now()).toBe(started)
    await send(press('StartCoat', coat, started + HOUR + 4_000))
    expect(panel(DOOR).open?.startedAt).toBe(started)
    expect(await standing()).toMatchObject({ doubt: null })
  })

  test('a confirmation that waited on a kiosk for long has no effect', async () => {
    const before = await now()
    computer.pass(MINUTE)
    const [answer] = await send(press('ConfirmClock', { nowMs: before + HOUR }, before))
    expect(answer?.body.entries).toEqual([])
    expect(await now()).toBe(before + MINUTE)
  })
})

describe('a board without a battery', () => {
  const again = async (wallMs: number) => {
    await server.stop()
    computer = new TestComputer(wallMs)
    server = await clockedServer(place.folder, computer)
  }

  test('wakes in 1970: it counts on from its log, says so, and takes the time when it comes', async () => {
    await send(press('StartCoat', coat, await now()))
    computer.pass(MINUTE)
    await again(0)
    const last = START_MS + MINUTE
    expect(await now()).toBe(last)
    expect(await standing()).toMatchObject({ doubt: 'behindLog', wallMs: 0 })
    expect((await server.get('/healthz')).body.clock.message).toContain('was behind the last entry')
    computer.pass(MINUTE)

    // A kiosk that was not switched off knows that nine hours have passed: its press keeps that time.
    const known = last + 9 * HOUR
    const [finish] = await send(press('FinishCoat', coat, known))
    expect(finish?.body.entries[0]).toMatchObject({ at: known })
    const tooFar = press('ReadClimate', { zone: 'booth', airC: 24, rh: 0.4 }, last + 13 * HOUR)
    expect((await server.post('/api/commands', tooFar)).status).toBe(400)

    computer.step(known + MINUTE)
    computer.pass(1_000)
    expect(await now()).toBe(computer.wallMs)
    expect(await standing()).toMatchObject({ doubt: null })
    await send(press('ReadClimate', { zone: 'booth', airC: 24, rh: 0.4 }, await now()))
  })

  test('what was recorded ahead of the time does not hold the next start back', async () => {
    computer.step(20 * 24 * HOUR)
    await send(press('ConfirmClock', { nowMs: computer.wallMs }, await now()))
    await send(press('ReadClimate', { zone: 'booth', airC: 25, rh: 0.4 }, await now()))
    computer.step(-20 * 24 * HOUR)
    await send(press('ConfirmClock', { nowMs: computer.wallMs }, await now()))
    computer.pass(MINUTE)
    const ahead = server.state().recordedAt
    expect(ahead).toBeGreaterThan(computer.wallMs)
    await again(computer.wallMs + 2 * MINUTE)
    expect([await now(), (await standing()).doubt]).toEqual([computer.wallMs, null])
    await send(press('ReadClimate', { zone: 'booth', airC: 21, rh: 0.4 }, await now()))
    // An order, and nothing else.
    expect(server.state().recordedAt).toBe(ahead)
  })

  test('a cup mixed after a reading of next week keeps its alarms through a restart', async () => {
    computer.step(8 * 24 * HOUR)
    await send(press('ConfirmClock', { nowMs: computer.wallMs }, await now()))
    await send(press('ReadClimate', { zone: 'booth', airC: 25, rh: 0.4 }, await now()))
    computer.step(-8 * 24 * HOUR)
    await send(press('ConfirmClock', { nowMs: computer.wallMs }, await now()))
    const mix = { cup: 'MXAFTER2', sheet: CLEAR.sheet, totalMl: 100 }
    await send(press('MixCup', mix, await now()))
    const alarms = () =>
      deadlines(server.state())
        .filter((one) => one.thing.id === mix.cup)
        .map(({ bell, dueAt }) => ({ bell, dueAt }))
    const before = alarms()
    expect(before.map(({ bell }) => bell)).toEqual(['potNear', 'potOver'])
    // A snapshot is kept at the stop, and what is over is evicted with it.
    await again(computer.wallMs + MINUTE)
    expect(alarms()).toEqual(before)
  })

  test('started weeks later it asks, and evicts nothing until a person has answered', async () => {
    await send(press('EmptyCup', { cup: CUP, how: 'discarded' }, await now()))
    await again(START_MS + 30 * 24 * HOUR)
    expect(await standing()).toMatchObject({ doubt: 'longSince' })
    await again(START_MS + 30 * 24 * HOUR)
    expect(Object.keys(server.state().things.cup)).toEqual([CUP])
    await send(press('ConfirmClock', { nowMs: computer.wallMs }, await now()))
    await again(START_MS + 30 * 24 * HOUR + HOUR)
    expect(await standing()).toMatchObject({ doubt: null })
    expect(server.state().things.cup).toEqual({})
  })
})
