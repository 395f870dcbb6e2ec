import { expect, test } from 'vitest'
import { deadlines } from '../../machines/deadlines.ts'
import { CLEAR } from '../support/sheets.ts'
import { CUP, panelId } from './busyShop.ts'
import { lane } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** What comes after the first frame comes soon, and moves nothing. */

const shop = vanShop()
const LANES = 5
const A = panelId(0)

async function flashing(settings?: object): Promise<void> {
  await shop.van(LANES, [{ stage: 'clear', sheet: CLEAR.sheet }], settings)
  for (let n = 0; n < LANES; n += 1) {
    await shop.site.send('FinishCoat', { panels: [panelId(n)], cup: CUP })
    shop.site.clock.move(61_000)
  }
}

const ready = () =>
  deadlines(shop.site.shops.ownWriter.state()).find(
    (d) => d.bell === 'coatReady' && d.thing.id === A,
  )

test('nothing moves on a Wall once its first frame stands', async () => {
  await flashing()
  const { page, close } = await shop.open()
  await page.waitForFunction(() => document.fonts.status === 'loaded')
  await page.waitForTimeout(2_000)
  const moved = await page.evaluate(
    () =>
      new Promise<{ value: number; what: string[] }[]>((done) => {
        type Shift = PerformanceEntry & { value: number; sources: { node: Node | null }[] }
        const said: { value: number; what: string[] }[] = []
        new PerformanceObserver((list) => {
          for (const shift of list.getEntries() as Shift[]) {
            const what = shift.sources.map(({ node }) => node?.parentElement?.className ?? '')
            said.push({ value: shift.value, what })
          }
        }).observe({ type: 'layout-shift', buffered: true })
        setTimeout(() => done(said), 200)
      }),
  )
  expect(moved).toEqual([])
  await close()
})

test('a bell that is due while the page is loaded rings once its first frame stands', async () => {
  await flashing()
  const { dueAt = 0, key = '' } = ready() ?? {}
  shop.site.clock.move(dueAt - shop.site.clock.now() + 1_000)
  const { page, close } = await shop.open()
  await page.waitForSelector('.bell.card[data-bell="coatReady"]')
  const heard = () => shop.site.shops.ownWriter.state().things.bell[key]?.context.rangAt ?? null
  await expect.poll(heard, { timeout: 10_000 }).not.toBeNull()
  await close()
})

test('a lane that is pressed as soon as it is there opens what may be done', async () => {
  await flashing()
  const { page, close } = await shop.open({
    // In the page, as the lane comes: before a test could have seen it.
    prepare: async (opened) => {
      await opened.addInitScript(
        (selector) =>
          new MutationObserver((_, watch) => {
            const found = document.querySelector<HTMLElement>(selector)
            if (found === null) return
            watch.disconnect()
            requestAnimationFrame(() => found.click())
          }).observe(document, { subtree: true, childList: true }),
        lane(A),
      )
    },
  })
  await page.waitForSelector('.act-sheet')
  expect(await page.getAttribute(lane(A), 'aria-pressed')).toBe('true')
  await close()
})

test('the first frame shows the shop’s time without Intl, in its zone and on twelve hours', async () => {
  await flashing({ timeZone: 'America/Chicago', clock: '12h' })
  const { page, close } = await shop.open({
    timezoneId: 'Asia/Tokyo',
    prepare: async (opened) => {
      await opened.addInitScript(() => {
        const made: string[] = []
        Intl.DateTimeFormat = new Proxy(Intl.DateTimeFormat, {
          construct: (of, args) => {
            made.push(JSON.stringify(args))
            return new of(...(args as [string]))
          },
        })
        new MutationObserver((_, watch) => {
          if (document.querySelector('.lane') === null) return
          watch.disconnect()
          requestAnimationFrame(() => Object.assign(window, { made: [...made] }))
        }).observe(document, { subtree: true, childList: true })
      })
    },
  })
  await page.waitForFunction(() => 'made' in window)
  const [shown, made] = await page.evaluate(() => [
    document.querySelector('.now time')?.textContent ?? '',
    Reflect.get(window, 'made') as string[],
  ])
  const byIntl = new Intl.DateTimeFormat('en-US', {
    ...{ hour: 'numeric', minute: '2-digit', hour12: true, timeZone: 'America/Chicago' },
  } as const)
  const around = [-60_000, 0].map((by) => byIntl.format(shop.site.clock.now() + by))
  expect(around.map((text) => text.replace('\u202f', ' '))).toContain(shown)
  expect(made).toEqual([])
  await close()
})
