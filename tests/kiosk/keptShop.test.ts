import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Changes, changesOf, stateOf } from '../../kiosk/commands/keptShop.ts'
import { emptyState, type State } from '../../machines/state.ts'
import { patience, tries } from '../support/randomRuns.ts'
import { command, DOOR, JOB, vanInWork } from '../support/serverCommands.ts'
import { anyHistory } from '../support/serverHistories.ts'
import { MINUTE, openTestShop, TestClock } from '../support/serverShop.ts'

/** What a device keeps of the shop: rows, of which only the changed ones are written. */

/** The rows as they lie on a device: what is written is copied, as a browser does. */
function device() {
  const things = new Map<
    string,
    Changes['things'] extends ReadonlyMap<string, infer R> ? R : never
  >()
  const air = new Map<string, Changes['air'] extends ReadonlyMap<string, infer R> ? R : never>()
  return {
    write({ gone, ...put }: Changes): void {
      for (const key of gone.things) expect(things.delete(key)).toBe(true)
      for (const key of gone.air) expect(air.delete(key)).toBe(true)
      for (const [key, row] of put.things) things.set(key, structuredClone(row))
      for (const [key, row] of put.air) air.set(key, structuredClone(row))
    },
    read({ things: _, ...head }: State): State {
      return stateOf({ ...head, writer: 'page' }, [...things.values()], [...air.values()])
    },
  }
}

const blank = emptyState('SHAPSHAP', '0'.repeat(64))

test(
  'whatever happened, the rows of a device give the shop that was kept, whenever it was kept',
  {
    timeout: patience,
  },
  () =>
    fc.assert(
      fc.asyncProperty(anyHistory, async (steps) => {
        const clock = new TestClock()
        const { shops } = await openTestShop({ clock, snapshotEvery: 9 })
        const { handle, state } = shops.ownWriter
        const kept = device()
        let before: State | null = null
        for (const [i, step] of steps.entries()) {
          clock.advance(step.minutes * MINUTE)
          await handle(step.make(`h${i}`, { now: clock.now(), state: state() }))
          if (step.minutes === 0) continue
          kept.write(changesOf(state(), before))
          before = state()
          expect(kept.read(before)).toEqual(before)
        }
      }),
      tries(40),
    ),
)

test('a reading writes itself and one short row, however many there were; a note writes its job', async () => {
  const clock = new TestClock()
  const { shops } = await openTestShop({ clock })
  const { handle, state } = shops.ownWriter
  for (const wish of vanInWork) await handle(wish)
  const written = async (type: string, data: object) => {
    const before = state()
    clock.advance(2 * MINUTE)
    const id = `${type}-${before.head}`
    expect((await handle(command(id, type, data))).status).toBe(200)
    const { things, air, gone } = changesOf(state(), before)
    const bytes = JSON.stringify([[...things], [...air]]).length
    return { things: [...things.keys()], air: air.size, gone, bytes }
  }
  const air = (n: number) => ({ zone: 'booth', airC: 18 + (n % 5), rh: 0.5 })
  const first = await written('ReadClimate', air(1))
  for (let n = 2; n < 200; n += 1) await written('ReadClimate', air(n))
  const last = await written('ReadClimate', air(3))
  const none = { things: [], air: [] }
  expect(last).toMatchObject({ things: ['zone booth'], air: 1, gone: none })
  expect(last.bytes).toBeLessThan(first.bytes + 20)
  expect(await written('AddNote', { job: JOB, text: 'A chip' })).toMatchObject({
    ...{ things: [`job ${JOB}`], air: 0, gone: none },
  })
  expect((await written('MovePanel', { panel: DOOR, zone: 'bench' })).things).toEqual([
    `panel ${DOOR}`,
  ])
})

test('a shop of which nothing is kept yet is written whole, and of one that is empty there is nothing', () => {
  const { things, air } = changesOf(blank, null)
  expect([things.size, air.size]).toEqual([0, 0])
  expect(device().read(blank)).toEqual(blank)
})
