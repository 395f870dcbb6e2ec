import { parseCommand } from '../../machines/contract.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { decide } from '../../machines/decide.ts'
import { fold } from '../../machines/fold.ts'
import type { State } from '../../machines/state.ts'
import { openTestShop, TestClock } from '../support/serverShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { median } from './figures.ts'
import { oursAtMost, part, ratioAtMost } from './table.ts'

/**
 * What the rules cost beside much other open work: commands of bells, which are about one lane, and the start
 * of a pass on three panels. Processor time, in turn on a shop of three lanes and on one of forty.
 */

const FEW = 3
const MANY = 42
const ROUNDS = 40
const WARM = 10
const EACH = 50

const RING = 'a bell rung, decided, 42 lanes'
const ACKNOWLEDGE = 'a bell acknowledged, decided, 42 lanes'
const START = 'a pass on three panels begun, decided, 42 lanes'
const FOLD = 'a pass on three panels begun, folded, 42 lanes'

const PROMISED = {
  [RING]: ratioAtMost(1.5),
  [ACKNOWLEDGE]: ratioAtMost(1.5),
  [START]: ratioAtMost(1.5),
  [FOLD]: oursAtMost(90),
}
type What = keyof typeof PROMISED

const MINUTE = 60_000
const SIGNS = '23456789ABCDEFGHJKMNPQRSTVWXYZ'
const code = (n: number) => `${SIGNS[Math.floor(n / 30) % 30]}${SIGNS[n % 30]}`

/** A state in which something is about to be decided. */
type Moment = { readonly state: State; readonly now: number; readonly command: unknown }

/** Jobs of three panels, each with its first clear on; the last job's bell is the one that is asked for. */
async function momentsOf(lanes: number): Promise<Record<What, Moment>> {
  const clock = new TestClock()
  const shop = await openTestShop({ clock })
  let count = 0
  const made = (type: string, data: object) => {
    count += 1
    return { id: `c-${count}`, type, data }
  }
  const send = async (type: string, data: object) => {
    const { status, body } = await shop.post('/api/commands', made(type, data))
    if (status !== 200) throw new Error(`${type} was answered ${JSON.stringify(body)}`)
  }
  const at = (command: object): Moment => ({
    ...{ state: shop.shops.ownWriter.state(), now: clock.now(), command },
  })
  await send('SaveSheet', { sheet: CLEAR })
  await send('SaveZone', { zone: 'booth', name: 'Booth', clearanceMin: 25 })
  for (let minute = 0; minute < 60; minute += 1) {
    await send('ReadClimate', { zone: 'booth', airC: 20 + (minute % 3) / 10, rh: 0.5 })
    clock.advance(MINUTE)
  }
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }]
  let panels: readonly string[] = []
  let cup = ''
  for (let n = 0; n < lanes / 3; n += 1) {
    const job = `JJJJJJ${code(n)}`
    cup = `CCCCCC${code(n)}`
    panels = [0, 1, 2].map((of) => `PPPPPP${code(n * 3 + of)}`)
    await send('OpenJob', { job, title: `Delivery van ${n + 1}` })
    for (const panel of panels)
      await send('AddPanel', {
        job,
        panel,
        name: 'Rear door',
        operation: 'repair',
        areaM2: 0.5,
        route,
      })
    await send('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 3_000, activator: 'standard', job })
    await send('StartCoat', { panels, cup })
    clock.advance(MINUTE)
    await send('FinishCoat', { panels, cup })
  }
  clock.advance(12 * MINUTE)
  const key = deadlines(shop.shops.ownWriter.state()).findLast(
    ({ bell, panels: of }) => bell === 'coatReady' && of?.includes(panels[0] ?? '') === true,
  )?.key
  const rung = made('RingBell', { key, wasHeard: true })
  const ring = at(rung)
  await send('RingBell', rung.data)
  const acknowledge = at(made('AcknowledgeBell', { key }))
  const start = at(made('StartCoat', { panels, cup }))
  return { [RING]: ring, [ACKNOWLEDGE]: acknowledge, [START]: start, [FOLD]: start }
}

/** @returns what is done with a moment: nothing that was worked out from its state before is known */
function workOf(what: What, { state, now, command }: Moment): () => void {
  const parsed = parseCommand(command)
  if (!parsed.ok) throw new Error(`${what}: ${JSON.stringify(parsed.errors)}`)
  const decided = () => decide({ ...state }, parsed.value, now)
  const first = decided()
  if (!('drafts' in first) || first.drafts.length === 0)
    throw new Error(`${what} was answered ${JSON.stringify(first)}`)
  if (what !== FOLD) return () => void decided()
  return () => void first.drafts.reduce(fold, { ...state })
}

function cpuUs(work: () => void): number {
  const before = process.cpuUsage()
  for (let n = 0; n < EACH; n += 1) work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / EACH
}

export const decided = part('decided', PROMISED, async (put) => {
  const few = await momentsOf(FEW)
  const many = await momentsOf(MANY)
  for (const what of Object.keys(PROMISED) as What[]) {
    const works = { few: workOf(what, few[what]), many: workOf(what, many[what]) }
    const us = { few: [] as number[], many: [] as number[] }
    for (let round = -WARM; round < ROUNDS; round += 1)
      for (const of of ['few', 'many'] as const) {
        const took = cpuUs(works[of])
        if (round >= 0) us[of].push(took)
      }
    const limit = { what: `${FEW} lanes`, value: median(us.few) }
    const ratio = median(us.many.map((own, n) => own / (us.few[n] ?? Number.NaN)))
    put(what, { ours: median(us.many), unit: 'us', limit, ratio })
  }
})
