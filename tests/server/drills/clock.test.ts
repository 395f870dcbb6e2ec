import { expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import { verifyFolder } from '../../../server/verifyLog.ts'
import { type ClockedServer, clockedServer, TestComputer } from '../../support/clockedServer.ts'
import { type Drill, drill, drillPatience } from '../../support/drill.ts'
import { folderForTests } from '../../support/folderForTests.ts'
import { idOf } from '../../support/randomView.ts'
import { vanInWork } from '../../support/serverCommands.ts'
import { MINUTE } from '../../support/serverShop.ts'
import { CLEAR } from '../../support/sheets.ts'

/**
 * A computer whose clock is put forward and back by seconds, hours and days, that sleeps, and that is
 * restarted meanwhile, over the nights on which two zones change their clocks: every press is taken, no
 * cup loses its alarms, the shop's time runs back for nobody but a person, and every step is recorded.
 */

const place = folderForTests()

const SECOND = 1_000
const HOUR = 60 * MINUTE
const DAY = 24 * HOUR
const STEPS = [
  SECOND,
  3 * SECOND,
  MINUTE,
  4 * MINUTE,
  10 * MINUTE,
  HOUR,
  5 * HOUR,
  DAY,
  8 * DAY,
  40 * DAY,
] as const
/** Zones, and an evening before each of their changes in 2026 (IANA time zone database). */
const NIGHTS = [
  ['Europe/Madrid', '2026-03-28T20:00Z'],
  ['Europe/Madrid', '2026-10-24T20:00Z'],
  ['America/New_York', '2026-03-08T02:00Z'],
  ['America/New_York', '2026-10-31T22:00Z'],
] as const
const ALARMS = ['potNear', 'potOver']

/** A shop on such a computer, and what is known of it from outside. */
class Night {
  readonly #run: Drill
  readonly #computer: TestComputer
  #server: ClockedServer | null = null
  #presses = 0
  /** The cups that were mixed, by their ids. */
  readonly #cups: string[] = []
  /** The shop's time when it was last asked for; a person's word may set it back. */
  #nowMs = 0
  /** Steps of more than two seconds that a running server has seen. */
  #steps = 0

  constructor(run: Drill, startMs: number) {
    this.#run = run
    this.#computer = new TestComputer(startMs)
  }

  get server(): ClockedServer {
    if (this.#server === null) throw new Error('no server runs')
    return this.#server
  }

  async open(): Promise<void> {
    this.#server = await clockedServer(place.folder, this.#computer)
  }

  async close(): Promise<void> {
    await this.server.stop()
    expect(this.server.reports).toEqual([])
    this.#server = null
  }

  async press(type: string, data: object): Promise<void> {
    this.#presses += 1
    const enteredAt = await this.#hear()
    const id = `press-${this.#presses}`
    const pressed = { id, type, data, enteredAt, device: 'kiosk-1', seq: this.#presses }
    const answer = await this.server.post('/api/commands', pressed)
    expect({ type, answer }).toMatchObject({ type, answer: { status: 200 } })
    this.#run.count('presses')
  }

  /** What a kiosk hears the time to be. */
  async #hear(): Promise<number> {
    return (await this.server.get('/api/state')).body.serverTime
  }

  async step(): Promise<void> {
    const { dice, count } = this.#run
    const ms = dice.of(STEPS) * (dice.chance(50) ? 1 : -1)
    this.#computer.step(ms)
    this.#computer.pass(2 * SECOND)
    if (Math.abs(ms) > 2 * SECOND) this.#steps += 1
    count('steps')
  }

  pass(): void {
    this.#computer.pass(this.#run.dice.between(SECOND, 20 * MINUTE))
  }

  sleep(): void {
    this.#computer.sleep(this.#run.dice.between(MINUTE, 12 * HOUR))
    this.#computer.pass(2 * SECOND)
    this.#run.count('sleeps')
  }

  async restart(): Promise<void> {
    const { dice, count } = this.#run
    await this.close()
    // Off for a while, and perhaps set meanwhile.
    this.#computer.sleep(dice.between(SECOND, 3 * DAY))
    if (dice.chance(40)) this.#computer.step(dice.of(STEPS) * (dice.chance(50) ? 1 : -1))
    await this.open()
    // What it shows at a start is nobody's step, and may be before what was last heard.
    this.#nowMs = 0
    count('restarts')
  }

  /** A person says what time it is: the computer's, or the shop's. */
  async confirm(): Promise<void> {
    const { doubt, wallMs } = (await this.server.get('/api/state')).body.clock
    if (doubt === null) return
    const nowMs = this.#run.dice.chance(50) ? wallMs : await this.#hear()
    await this.press('ConfirmClock', { nowMs: Math.round(nowMs) })
    this.#nowMs = 0
    this.#run.count('confirmed')
  }

  async mix(): Promise<void> {
    const cup = idOf('C', this.#cups.length + 1)
    await this.press('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 100 })
    this.#cups.push(cup)
  }

  async check(): Promise<void> {
    const nowMs = await this.#hear()
    expect(nowMs).toBeGreaterThanOrEqual(this.#nowMs)
    this.#nowMs = nowMs
    const state = this.server.state()
    const all = deadlines(state)
    for (const cup of this.#cups) {
      const bells = all.filter(({ thing }) => thing.id === cup)
      const isOver = bells.length === 0 && !Object.hasOwn(state.things.cup, cup)
      // Only a cup whose end is long past may be gone.
      if (isOver) continue
      expect({ cup, bells: bells.map(({ bell }) => bell) }).toEqual({ cup, bells: ALARMS })
    }
  }

  /** The cup that was mixed last is never gone: its pot life has just begun. */
  async checkLast(): Promise<void> {
    const cup = this.#cups.at(-1)
    expect(Object.keys(this.server.state().things.cup)).toContain(cup)
  }

  async end(): Promise<void> {
    const { body } = await this.server.get('/api/entries?limit=1000')
    const jumps = body.entries.filter(({ type }: { type: string }) => type === 'ClockJumped')
    expect(jumps.length).toBe(this.#steps)
    await this.close()
    expect(await verifyFolder(place.folder)).toMatchObject({ ok: true })
  }
}

test('presses are taken, alarms stay and steps are recorded, whatever the clock does', {
  timeout: drillPatience,
}, async () => {
  const run = drill('clocks', { small: 8, long: 600 })
  const { dice } = run
  for (let round = 0; round < run.rounds; round += 1) {
    const [timeZone, evening] = dice.of<readonly [string, string]>(NIGHTS)
    const night = new Night(run, Date.parse(evening))
    await night.open()
    await night.server.post('/api/commands', vanInWork)
    await night.press('ChangeSettings', { timeZone })
    for (let deed = 0; deed < 12; deed += 1) {
      const what = dice.below(10)
      if (what < 3) await night.step()
      else if (what < 5) night.pass()
      else if (what < 6) night.sleep()
      else if (what < 7) await night.restart()
      else if (what < 9) await night.confirm()
      await night.mix()
      await night.check()
      await night.checkLast()
    }
    await night.end()
    place.renew()
  }
  run.done()
})
