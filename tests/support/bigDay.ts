import { ID_ALPHABET } from '../../machines/accept.ts'
import { dueBells } from '../../machines/deadlines.ts'
import type { Entry } from '../../machines/envelope.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { randomOf } from './labelImage.ts'
import { MINUTE, openTestShop, START_MS, type TestShop } from './serverShop.ts'
import { BASE, CLEAR } from './sheets.ts'

/** One day of a shop, decided command by command: what a large log is made of. */

export const DAY_MS = 24 * 60 * MINUTE
export const SHOP = 'SHAPSHAP'
/** Those with a sensor. */
export const ZONES = ['booth', 'bench', 'oven'] as const
/** Nothing wet goes in beside a bake: each job has one, and a job begins every twenty minutes. */
const OVENS = ['oven', 'oven-2', 'oven-3', 'oven-4'] as const

export type DayShape = {
  /** Three panels each, one begun every twenty minutes. */
  readonly jobs: number
  /** How often each zone's sensor speaks, minutes. */
  readonly airEveryMin: number
  /** The same one gives the same day. */
  readonly seed: number
}

/** A busy shop: some 2,000 entries a day. */
export const BUSY: DayShape = { jobs: 20, airEveryMin: 2, seed: 7 }
/** A shop of one painter: some 120. */
export const QUIET: DayShape = { jobs: 1, airEveryMin: 30, seed: 7 }

/** A number in the letters of ids. */
export function codeOf(count: number, length: number): string {
  let code = ''
  for (let n = count; code.length < length; n = Math.floor(n / ID_ALPHABET.length))
    code = (ID_ALPHABET[n % ID_ALPHABET.length] as string) + code
  return code
}

/** An id of that day: a letter, four of the day, three of the thing. */
export const dayId = (letter: string, day: number, count: number): string =>
  letter + codeOf(day, 4) + codeOf(count, 3)

export type PlayedDay = {
  /** What the shop was set up with before. */
  readonly setUp: readonly Entry[]
  readonly entries: readonly Entry[]
  /** Which day it was: in all its ids. */
  readonly day: number
}

/** Rare in ids: nothing but the day itself looks like it. */
const PLAYED = ID_ALPHABET.length ** 4 - 7

type Act = { readonly atMin: number; readonly run: () => Promise<void> }

/** Plays a day from eight in the morning on. @throws Error where a command is refused */
export async function playDay({ jobs, airEveryMin, seed }: DayShape): Promise<PlayedDay> {
  const store = memoryStore()
  await store.putMeta('shop', SHOP)
  const shop = await openTestShop({ store })
  await setUp(shop)
  const head = shop.shops.ownWriter.state().head
  shop.clock.advance(DAY_MS)
  const send = sender(shop, `d${codeOf(PLAYED, 4)}-`)
  const random = randomOf(seed)
  const acts = [
    ...Array.from({ length: jobs }, (_, k) => jobActs(k, send)).flat(),
    ...airActs(jobs * 20 + 260, airEveryMin, random, send),
  ]
  for (const { atMin, run } of acts.toSorted((a, b) => a.atMin - b.atMin)) {
    shop.clock.advance(Math.max(0, START_MS + DAY_MS + atMin * MINUTE - shop.clock.now()))
    for (const { key } of dueBells(shop.shops.ownWriter.state(), shop.clock.now())) {
      await send('RingBell', { key, wasHeard: true })
      await send('AcknowledgeBell', { key })
    }
    await run()
  }
  const all = await store.read(SHOP, { after: 0, limit: 1_000_000 })
  await shop.shops.close()
  return { setUp: all.slice(0, head), entries: all.slice(head), day: PLAYED }
}

type Send = (type: string, data: object) => Promise<void>

function sender(shop: TestShop, prefix: string): Send {
  let count = 0
  return async (type, data) => {
    count += 1
    const input = { id: `${prefix}${count}`, type, data }
    const { status, body } = await shop.shops.ownWriter.handle(input)
    if (status !== 200) throw new Error(`${type} ${JSON.stringify(data)}: ${JSON.stringify(body)}`)
  }
}

const gunsOf = (job: number) => ({ base: `gun-${1 + (job % 8)}`, clear: `gun-${9 + (job % 8)}` })

async function setUp(shop: TestShop): Promise<void> {
  const send = sender(shop, 'set-up-')
  for (const sheet of [BASE, CLEAR]) await send('SaveSheet', { sheet })
  for (const zone of new Set([...ZONES, ...OVENS]))
    await send('SaveZone', { zone, name: zone, clearanceMin: 30 })
  for (let n = 1; n <= 16; n += 1) await send('SaveGun', { gun: `gun-${n}`, name: `Gun ${n}` })
  await send('SaveAirSupply', { air: 'main', receiverL: 900, freeAirLpm: 1500, cutOutKpa: 1000 })
}

/** The air wanders a little, as it does in a heated shop. */
function airActs(untilMin: number, everyMin: number, random: () => number, send: Send): Act[] {
  const acts: Act[] = []
  let [milliC, milliRh] = [21_000, 500]
  for (let atMin = 0; atMin < untilMin; atMin += everyMin)
    for (const zone of ZONES) {
      milliC = Math.min(24_000, Math.max(19_000, milliC + Math.round((random() - 0.5) * 600)))
      milliRh = Math.min(650, Math.max(350, milliRh + Math.round((random() - 0.5) * 30)))
      const data = { zone, airC: milliC / 1000, rh: milliRh / 1000 }
      acts.push({ atMin, run: () => send('ReadClimate', data) })
    }
  return acts
}

/** One job, from its opening to the last panel's pass. Every fourth is never closed. */
function jobActs(k: number, send: Send): Act[] {
  const job = dayId('J', PLAYED, k)
  const panels = [0, 1, 2].map((n) => dayId('P', PLAYED, k * 3 + n))
  const [base, clear] = [dayId('C', PLAYED, k * 2), dayId('C', PLAYED, k * 2 + 1)]
  const guns = gunsOf(k)
  const acts: Act[] = []
  const at = (min: number, type: string, data: object) =>
    acts.push({ atMin: 5 + k * 20 + min, run: () => send(type, data) })
  const coats = (fromMin: number, everyMin: number, cup: string, gun: string) => {
    for (const n of [0, 1]) {
      at(fromMin + n * everyMin, 'StartCoat', { panels, cup, gun })
      at(fromMin + n * everyMin + 5, 'FinishCoat', { panels, cup })
    }
  }
  const colours = [{ key: 'body', code: 'van gray', kind: 'solid' }]
  at(0, 'OpenJob', { job, title: `Delivery van ${k + 1}, rear corner`, colours })
  for (const [n, name] of ['Rear quarter', 'Sliding door', 'Bumper cover'].entries())
    at(0, 'AddPanel', {
      ...{ job, panel: panels[n], name, operation: 'repair', areaM2: 0.9, zone: 'booth' },
      route: [
        { stage: 'base', sheet: BASE.sheet, colour: 'body' },
        { stage: 'clear', sheet: CLEAR.sheet },
        { stage: 'cure', sheet: CLEAR.sheet },
        { stage: 'polish' },
      ],
    })
  at(1, 'AddNote', { job, text: 'Crease repaired; blend into the door' })
  const mix = { totalMl: 600, job, zone: 'bench' }
  at(2, 'MixCup', { ...mix, cup: base, sheet: BASE.sheet, colour: 'body', lots: ['L-4411'] })
  at(2, 'PrintLabel', { cup: base })
  at(3, 'LoadGun', { gun: guns.base, cup: base })
  coats(5, 20, base, guns.base)
  at(31, 'CleanGun', { gun: guns.base })
  at(32, 'EmptyCup', { cup: base, how: 'used', leftMl: 20 })
  at(50, 'MixCup', { ...mix, cup: clear, sheet: CLEAR.sheet, activator: 'standard' })
  at(50, 'PrintLabel', { cup: clear })
  at(51, 'LoadGun', { gun: guns.clear, cup: clear })
  coats(55, 20, clear, guns.clear)
  at(81, 'CleanGun', { gun: guns.clear })
  at(82, 'EmptyCup', { cup: clear, how: 'discarded', leftMl: 60 })
  for (const panel of panels) at(90, 'MovePanel', { panel, zone: OVENS[k % OVENS.length] })
  at(110, 'StartCure', { panels, mode: 'bake' })
  for (const panel of panels) at(114, 'ReadPart', { panel })
  at(155, 'EndCure', { panels })
  for (const panel of panels) at(169, 'ReadPart', { panel, partC: 34 })
  for (const panel of panels) at(170, 'PolishPanel', { panel })
  for (const panel of panels) at(171, 'PassPanel', { panel })
  if (k % 4 !== 3) at(180, 'CloseJob', { job })
  return acts
}
