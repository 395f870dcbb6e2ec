import { expect, test } from 'vitest'
import { fetchedEvict, shopCopy } from '../../kiosk/commands/copy.ts'
import { evict } from '../../machines/evict.ts'
import { CUP, command, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop } from '../support/serverShop.ts'

/** A kiosk follows a shop before it can tell what is over, and lets go of that once it can. */

test('what tells that something is over is asked for again where it could not be fetched', async () => {
  let asked = 0
  const evicts = fetchedEvict(async () => {
    asked += 1
    if (asked === 1) throw new Error('nobody answers')
    return { evict }
  })
  expect(evicts()).toBeUndefined()
  await expect.poll(() => evicts() === evict).toBe(true)
  expect([evicts(), asked]).toEqual([evict, 2])
})

test('a copy holds what is over until it can be told, and no longer', async () => {
  const shop = await openTestShop()
  let here: typeof evict | undefined
  const copy = shopCopy(shop.clock.now, () => here)
  copy.renew()(shop.shops.ownWriter.state())
  shop.shops.ownWriter.follow((news) => {
    if (news.kind === 'committed') for (const entry of news.entries) copy.add(entry)
  })
  const say = (id: string, type: string, data: object) =>
    shop.post('/api/commands', command(id, type, data))
  await shop.post('/api/commands', vanInWork)
  await say('empty', 'EmptyCup', { cup: CUP, how: 'used' })
  const holds = async (id: string) => {
    shop.clock.advance(13 * 60 * MINUTE)
    await say(id, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    return copy.state.value?.things.cup[CUP] !== undefined
  }
  expect(await holds('air-1')).toBe(true)
  here = evict
  expect(await holds('air-2')).toBe(false)
})
