import { expect } from 'vitest'
import type { State } from '../../machines/state.ts'
import { loadShop } from '../../server/load.ts'
import type { Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { allKept } from './allKept.ts'
import { command, JOB, vanInWork } from './serverCommands.ts'
import { MINUTE, openTestShop } from './serverShop.ts'
import { CLEAR } from './sheets.ts'

/** A shop with guns, of which cups are filled. */

export const GUN = 'gun-1'
export const [FIRST, LATER, FRESH] = ['CCCC3333', 'CCCC4444', 'CCCC5555'] as const
export const [TAKER, CHILD] = ['CCCC6666', 'CCCC7777'] as const

/** A shop that evicts whenever it can. Each press is sent at once, or so many minutes later than it happened. */
export async function gunShop() {
  const shop = await openTestShop({ store: memoryStore(), snapshotEvery: 1 })
  const { clock, shops } = shop
  let n = 0
  const press = async (type: string, data: object, minutesAgo = 0) => {
    n += 1
    const at = clock.now() - minutesAgo * MINUTE
    const late = minutesAgo === 0 ? {} : { at, reason: 'typed later' }
    const answer = await shops.ownWriter.handle(command(`g${n}`, type, data, late))
    expect(answer, JSON.stringify(answer.body)).toMatchObject({ status: 200 })
    return `g${n}.0`
  }
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  clock.advance(30 * MINUTE)
  return {
    ...shop,
    press,
    wait: (minutes: number) => clock.advance(minutes * MINUTE),
    mix: (cup: string, ago?: number) =>
      press('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, job: JOB }, ago),
    load: (cup: string, ago?: number) => press('LoadGun', { gun: GUN, cup }, ago),
    fill: (cup: string, ago?: number) =>
      press('PourBack', { gun: GUN, cup, ml: 60, cleanCup: true }, ago),
    pourBack: (cup: string, ago?: number) => press('PourBack', { gun: GUN, cup, ml: 60 }, ago),
    empty: (cup: string) => press('EmptyCup', { cup, how: 'used' }),
  }
}
export type GunShop = Awaited<ReturnType<typeof gunShop>>

/** As a program of the next version opens the shop: by the ids of its open work, or by its log alone. */
export async function opened({ store, shops, clock }: GunShop, by: 'ids' | 'log', mayEvict = true) {
  const getMeta = async (key: string) =>
    key.startsWith('open ') && by === 'log' ? null : await store.getMeta(key)
  const later: Store = { ...store, getSnapshot: async () => null, getMeta }
  const deps = { store: later, every: 10, now: clock.now(), mayEvict }
  return (await loadShop(shops.own, deps)).state
}

/** Guns are cleaned and used for days: they hold none of their loads of before. */
export async function usedForDays(
  { wait, mix, press, empty }: GunShop,
  guns = [GUN],
): Promise<void> {
  await mix('DDDD3333')
  for (const gun of guns) await press('CleanGun', { gun })
  for (let i = 0; i < 22; i += 1) {
    wait(1)
    for (const gun of guns) await press('LoadGun', { gun, cup: 'DDDD3333' })
    for (const gun of guns) await press('CleanGun', { gun })
  }
  await empty('DDDD3333')
  wait(3 * 24 * 60)
}

/** A cup whose entries keep what they took. */
export const keptIn = (state: State, cup: string) => allKept(state).things.cup[cup]

/** FIRST is mixed, and so many minutes later LATER, which is in the gun for five. */
export async function loaded(laterMin: number): Promise<GunShop> {
  const shop = await gunShop()
  await shop.mix(FIRST)
  shop.wait(laterMin)
  await shop.mix(LATER)
  await shop.load(LATER)
  shop.wait(5)
  return shop
}
