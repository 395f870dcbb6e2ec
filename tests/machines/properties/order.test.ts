import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { AnyCommand } from '../../../machines/contract.ts'
import {
  addPanel,
  CLEAR_CUP,
  coat,
  DOOR,
  JOB,
  mix,
  SEALER_CUP,
  shopWith,
  WING,
} from '../../support/given.ts'
import {
  deliver,
  interleavings,
  knowingAll,
  outcome,
  type Queue,
  timeOf,
} from '../../support/interleavings.ts'
import {
  dataOf,
  type Pressed,
  press,
  pressOfHand,
  pressOfHaste,
  pressOfPass,
} from '../../support/randomPresses.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { expectSame } from '../../support/randomStates.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/**
 * Kiosks that were offline come back: each sends its queue in its own order, and they come in every
 * order that there is. What happened does not depend on it.
 */

const ROUTE = [
  { stage: 'sealer', sheet: SEALER.sheet },
  { stage: 'sand' },
  { stage: 'base', sheet: BASE.sheet },
  { stage: 'clear', sheet: CLEAR.sheet },
  { stage: 'cure' },
]
/** Two panels that were sealed, and two cups. Air was read, and is read by nobody offline. */
function opened(): Shop {
  // Every product may be cured in air: what a sheet never allows is refused, whenever it is sent.
  let shop = shopWith([{ ...BASE, cure: CLEAR.cure }, CLEAR, { ...SEALER, cure: CLEAR.cure }])
  for (const [id, name] of [
    [DOOR, 'Rear door'],
    [WING, 'Wing'],
  ] as const) {
    shop = addPanel(shop, ROUTE, { panel: id, name, areaM2: 1.013 })
  }
  shop = mix(mix(shop, CLEAR_CUP, CLEAR.sheet), SEALER_CUP, SEALER.sheet)
  coat(shop, SEALER_CUP, 1, 4, { panels: [DOOR] })
  return coat(shop, SEALER_CUP, 5, 8, { panels: [WING] }).at(600)
}

/** Presses with the minutes between them, dealt to kiosks; ids that are made twice are left out. */
function queuesOf(shop: Shop, kiosks: number, all: readonly Dealt[], end: Pressed | null): Queue[] {
  const queues: AnyCommand[][] = Array.from({ length: kiosks }, () => [])
  const made = new Set<unknown>()
  let min = 20
  const add = (of: Pressed, data: object, kiosk: number) => {
    const at = minute(min)
    const device = `k${kiosk + 1}`
    const queue = queues[kiosk] as AnyCommand[]
    const more = { id: `${device}-${queue.length}`, device, seq: queue.length }
    queue.push(shop.parse(of.type, data, { ...more, at, enteredAt: at }))
  }
  // What is said of a thing is said after it was made, whenever that is sent.
  const makes = ['OpenJob', 'AddPanel']
  const making = makes.flatMap((type) => all.filter(({ pressed }) => pressed.type === type))
  const others = all.filter(({ pressed }) => !makes.includes(pressed.type))
  for (const { pressed, after, kiosk } of [...making, ...others]) {
    const isMade = ['MixCup', 'PourCup', 'AddPanel', 'OpenJob'].includes(pressed.type)
    const of = pressed.cup ?? pressed.type
    if ((isMade && made.has(of)) || (pressed.from as unknown[] | undefined)?.includes(pressed.cup))
      continue
    if (isMade) made.add(of)
    min += after
    add(pressed, dataOf(pressed), kiosk % kiosks)
  }
  min += 3
  // Pressed last of all, it is delivered before much of what it ends.
  if (end?.type === 'CloseJob') add(end, { job: JOB, override: { reason: 'Collected' } }, 0)
  if (end?.type === 'RemovePanel') add(end, { panel: DOOR }, 0)
  return queues
}

type Dealt = { readonly pressed: Pressed; readonly after: number; readonly kiosk: number }
const pause = fc.constantFrom(0.5, 1, 3, 7, 12, 40)
const haste = fc.constantFrom(0.2, 0.5, 0.9, 1.7)
const end = fc.constantFrom(null, null, { type: 'CloseJob' }, { type: 'RemovePanel' })

/** Presses for some kiosks, so many for each. */
const dealt = (
  kiosks: number,
  most: number,
  of: fc.Arbitrary<Pressed> = press,
  after: fc.Arbitrary<number> = pause,
) =>
  fc
    .tuple(
      ...Array.from({ length: kiosks }, (_, kiosk) =>
        fc.array(fc.record({ pressed: of, after, kiosk: fc.constant(kiosk) }), {
          minLength: 1,
          maxLength: most,
          size: 'max',
        }),
      ),
      fc.array(fc.nat(999), { minLength: kiosks * most, maxLength: kiosks * most }),
    )
    .map((parts) => {
      const keys = parts.at(-1) as number[]
      const all = (parts.slice(0, -1) as Dealt[][]).flat()
      return all
        .map((one, i) => ({ one, key: keys[i] ?? 0, i }))
        .sort((a, b) => a.key - b.key || a.i - b.i)
        .map(({ one }) => one)
    })

/**
 * @param isOutsideSame whether a command that knew all before it was always told the same; not where
 *   a later press spreads a finish to before it
 * @returns how many orders there were
 */
function expectSameInAnyOrder(
  kiosks: number,
  all: readonly Dealt[],
  last: Pressed | null,
  isOutsideSame = true,
): number {
  const shop = opened()
  const queues = queuesOf(shop, kiosks, all, last)
  const commands = queues.flat().toSorted((a, b) => timeOf(a) - timeOf(b))
  const trace = commands.map(
    ({ id, type, at = 0, data }) =>
      `${id} ${(at - minute(0)) / 60_000} ${type} ${JSON.stringify(data)}`,
  )
  const orders = interleavings(queues.map((q) => q.length))
  // As it happened: each command was decided when all before it was known.
  const happened = commands.map(({ device }) => Number(device?.slice(1)) - 1)
  const one = deliver(shop, queues, happened)
  const wanted = outcome(one.shop.state)
  const toldThen = new Map(one.told.map((t) => [t.id, t]))
  for (const order of orders) {
    const other = deliver(shop, queues, order)
    const message = `order ${order}\n${trace.join('\n')}`
    expectSame(
      other.told.flatMap((t) => (t.refused ? [t.id] : [])),
      [],
      message,
    )
    expectSame(outcome(other.shop.state), wanted, message)
    if (!isOutsideSame) continue
    const knowing = knowingAll(queues, order)
    for (const t of other.told) {
      if (knowing.includes(t.id))
        expect(t.outside, `${t.id} ${message}`).toBe(toldThen.get(t.id)?.outside)
    }
  }
  return orders.length
}

describe('queues of kiosks that were offline', { timeout: patience }, () => {
  test.each([
    ['two kiosks of up to five commands', 2, 5, 12],
    ['three kiosks of up to three commands', 3, 3, 2],
  ])('%s come to the same in every order, with the same deadlines', (_, kiosks, most, times) => {
    let orders = 0
    fc.assert(
      fc.property(dealt(kiosks, most), end, (all, last) => {
        orders += expectSameInAnyOrder(kiosks, all, last)
      }),
      tries(times),
    )
    expect(orders).toBeGreaterThan(runs(times))
  })

  test.each([
    ['passes of two panels', pressOfPass, pause, 12],
    ['coats that begin and end within one pass', pressOfHaste, haste, 30],
    ['what is done by hand, seen, measured and decided', pressOfHand, pause, 12],
  ])('%s come to the same in every order', (_, of, after, times) => {
    let orders = 0
    fc.assert(
      fc.property(dealt(2, 4, of, after), end, (all, last) => {
        orders += expectSameInAnyOrder(2, all, last, false)
      }),
      tries(times),
    )
    expect(orders).toBeGreaterThan(runs(times))
  })
})
