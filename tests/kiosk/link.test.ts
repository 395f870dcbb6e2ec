import { expect, test } from 'vitest'
import { lossIn } from '../../machines/contract.ts'
import { linked, tailOf, tidyShop } from '../support/kioskLink.ts'
import { withoutSeals } from '../support/seals.ts'
import { CUP, DOOR, JOB as VAN } from '../support/serverCommands.ts'
import { MINUTE, type TestShop } from '../support/serverShop.ts'

/** A kiosk's copy of the shop, when entries arrive about things that the server had evicted. */

const HOUR = 60 * MINUTE
const GUN = 'gun-1'

/** A kiosk that has just been loaded, and how often it asked for the whole state. */
async function kiosk(shop: TestShop, openTail = (after: string) => tailOf(shop, after)) {
  let asked = 0
  const fetch = async (path: string, init?: RequestInit) => {
    asked += 1
    return await shop.app.request(path, init)
  }
  const link = linked(shop, { fetch, openTail })
  await expect.poll(() => link.is.value).toBe('live')
  return {
    link,
    asked: () => asked,
    things: () => link.state.value && withoutSeals(link.state.value.things),
    /** Waits until the kiosk has every entry. */
    follows: () =>
      expect.poll(() => link.state.value?.head).toBe(shop.shops.ownWriter.state().head),
  }
}

test('a job that is opened again comes back whole on a kiosk that never had it', async () => {
  const { shop, say, things } = await tidyShop()
  await say('CloseJob', { job: VAN, override: { reason: 'BREAK' } })
  shop.clock.advance(5 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await expect.poll(() => things().job).toEqual({})
  const page = await kiosk(shop)
  expect(page.things()?.job).toEqual({})
  expect(page.things()?.panel).toEqual({})
  await say('ReopenJob', { job: VAN })
  await page.follows()
  expect(page.things()?.job[VAN]).toMatchObject({
    value: 'open',
    context: { title: 'Delivery van, rear corner' },
  })
  expect(page.things()?.panel[DOOR]).toMatchObject({ context: { name: 'Rear door' } })
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(2)

  // From there on it follows as before.
  await say('AddNote', { job: VAN, text: 'two nibs in the door' })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(2)
})

test('a cup whose emptying is voided is back on a kiosk that had evicted it', async () => {
  const { shop, say, things } = await tidyShop()
  await say('EmptyCup', { cup: CUP, how: 'discarded' })
  shop.clock.advance(13 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await expect.poll(() => things().cup).toEqual({})
  const page = await kiosk(shop)
  expect(page.things()?.cup).toEqual({})
  const emptied = await shop.shops.ownWriter.reader.byThing('cup', CUP)
  const { id } = emptied.find(({ type }) => type === 'CupEmptied') ?? { id: '' }
  await say('VoidEntry', { entry: id, reason: 'MISTAP' })
  await page.follows()
  expect(page.things()?.cup[CUP]).toMatchObject({ value: 'stored', context: { emptiedAt: null } })
  expect(page.things()).toEqual(things())
})

test('a gun whose cleaning of yesterday is voided holds its earlier material', async () => {
  const { shop, say, things } = await tidyShop()
  await say('SaveGun', { gun: GUN })
  await say('LoadGun', { gun: GUN, cup: CUP })
  shop.clock.advance(MINUTE)
  await say('CleanGun', { gun: GUN })
  shop.clock.advance(13 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  const page = await kiosk(shop)
  const ofGun = await shop.shops.ownWriter.reader.byThing('gun', GUN)
  const { id } = ofGun.find(({ type }) => type === 'GunCleaned') ?? { id: '' }
  await say('VoidEntry', { entry: id, reason: 'MISTAP' })
  await page.follows()
  expect(page.things()?.gun[GUN]).toMatchObject({ context: { loads: [{ cup: CUP }] } })
  expect(page.things()?.gun[GUN]?.context).toEqual(things().gun[GUN]?.context)
})

test('a late coat on a cup of two weeks ago makes a kiosk ask for what it has evicted', async () => {
  const { shop, say, things } = await tidyShop()
  const page = await kiosk(shop)
  const emptiedAt = shop.clock.now()
  await say('EmptyCup', { cup: CUP, how: 'discarded' })
  await page.follows()
  shop.clock.advance(14 * 24 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await page.follows()
  // Both evicted it by themselves: nothing was asked for.
  await expect.poll(() => things().cup).toEqual({})
  expect(page.things()?.cup).toEqual({})
  expect(page.asked()).toBe(1)

  const late = { at: emptiedAt - MINUTE, reason: 'found on a note' }
  await say('StartCoat', { panels: [DOOR], cup: CUP }, late)
  await page.follows()
  await expect.poll(page.asked).toBe(2)
  expect(page.things()).toEqual(things())
  // The kiosk goes on by the tail from there.
  await say('FinishCoat', { panels: [DOOR] })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(2)
})

test('what begins a thing, or is about one that is there, is folded without asking again', async () => {
  const { shop, say, things } = await tidyShop()
  const page = await kiosk(shop)
  await say('OpenJob', { job: 'DDRJAB22', title: 'A door by itself' })
  await say('AddPanel', {
    job: 'DDRJAB22',
    panel: 'FRWNG222',
    name: 'Front wing',
    operation: 'repair',
    route: [{ stage: 'base', sheet: 'base-solvent' }],
  })
  await say('MixCup', { cup: 'NEWC2222', sheet: 'base-solvent', totalMl: 300 })
  await say('PourCup', { cup: 'PRED2222', from: [{ cup: 'NEWC2222', ml: 100 }] })
  await say('StartCoat', { panels: [DOOR], cup: CUP })
  await say('FinishCoat', { panels: [DOOR] })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(1)
})

test('a kiosk that follows what the log does not have says so until it is dismissed, and follows on', async () => {
  const { shop, say, things } = await tidyShop()
  let opened = 0
  const page = await kiosk(shop, (after) => {
    opened += 1
    return tailOf(shop, opened === 1 ? '99:01234567' : after)
  })
  await expect.poll(() => opened).toBe(2)
  const { head } = shop.shops.ownWriter.state()
  expect(page.link.reset.value).toMatchObject({
    code: 'unknownTail',
    params: { unknown: '99:01234567', head },
  })
  await expect.poll(() => page.link.is.value).toBe('live')
  await say('AddNote', { job: VAN, text: 'two nibs in the door' })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.link.reset.value).not.toBeNull()
  page.link.dismissReset()
  expect(page.link.reset.value).toBeNull()
})

test('what a log lacks is read also as servers of an earlier build say it', () => {
  const known = { head: 7, knownHead: 10, knownHash: 'ab', knownAtMs: 1 }
  expect(lossIn({ is: 'short', ...known })).toEqual({ kind: 'short', ...known })
  expect(lossIn({ kind: 'other', ...known })).toEqual({ kind: 'other', ...known })
  expect(lossIn(null)).toBeNull()
})
