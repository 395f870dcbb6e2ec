import { expect, test } from 'vitest'
import { SHOW_KEPT_AFTER_MS, SILENT_MS } from '../../kiosk/commands/link.ts'
import { linked, tailOf, tidyShop } from '../support/kioskLink.ts'
import { JOB as VAN } from '../support/serverCommands.ts'
import { openTestShop } from '../support/serverShop.ts'

/** A page that has just been loaded, until it follows its server. */

/** A page that has just been loaded; the server answers when it is let, and the device knows a shop. */
async function loadedPage() {
  const { shop, say } = await tidyShop()
  const known = shop.shops.ownWriter.state()
  await say('PauseJob', { job: VAN })
  let answer = (_isThere: boolean) => {}
  const answered = new Promise<boolean>((done) => {
    answer = done
  })
  const waits = new Map<number, () => void>()
  let looked = 0
  const link = linked(shop, {
    fetch: async (path, init) => {
      if (!(await answered)) throw new Error('no server')
      return await shop.app.request(path, init)
    },
    wait: (ms) => new Promise((done) => waits.set(ms, done)),
    kept: async () => {
      looked += 1
      return known
    },
  })
  const isPaused = () => link.state.value?.things.job[VAN]?.value === 'paused'
  return {
    link,
    known,
    answer,
    isPaused,
    looked: () => looked,
    late: () => waits.get(SHOW_KEPT_AFTER_MS)?.(),
  }
}

test('a page whose server does not answer soon shows what its device knew, rings for nothing of it, and takes the answer', async () => {
  const { link, known, answer, isPaused, late } = await loadedPage()
  expect(link.state.value).toBeNull()
  late()
  await expect.poll(() => link.state.value).toEqual(known)
  expect([link.is.value, link.isAsking.value, isPaused()]).toEqual(['connecting', true, false])
  answer(true)
  await expect.poll(() => link.is.value).toBe('live')
  expect([link.isAsking.value, isPaused()]).toEqual([false, true])
})

test('a page whose server turns out to be away rings by what its device knew', async () => {
  const { link, known, answer, late } = await loadedPage()
  late()
  await expect.poll(() => link.state.value).toEqual(known)
  answer(false)
  await expect.poll(() => link.is.value).toBe('away')
  expect([link.isAsking.value, link.state.value]).toEqual([false, known])
})

test('a page whose server answers in time never looks at what its device knew', async () => {
  const { link, answer, isPaused, looked, late } = await loadedPage()
  answer(true)
  await expect.poll(() => link.is.value).toBe('live')
  late()
  await Promise.resolve()
  expect([looked(), isPaused()]).toEqual([0, true])
})

test('a line that is open and never brings a word is let go of, and another one is opened', async () => {
  const shop = await openTestShop()
  const silences: (() => void)[] = []
  let opened = 0
  const link = linked(shop, {
    openTail: (after) => {
      opened += 1
      return opened === 1 ? { addEventListener: () => {}, close: () => {} } : tailOf(shop, after)
    },
    wait: (ms) => (ms < SILENT_MS ? Promise.resolve() : new Promise((done) => silences.push(done))),
  })
  await expect.poll(() => silences.length).toBe(1)
  expect([link.is.value, opened]).toEqual(['connecting', 1])
  silences[0]?.()
  await expect.poll(() => link.is.value).toBe('live')
  expect(opened).toBe(2)
})
