import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { CLEAR_ROUTE, CUP, JOB, MINUTE, panelId } from './busyShop.ts'
import { lane, waitsFor } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** Two vehicles with a panel of the same name: a coat on the wrong one starts the wrong clock. */

const shop = vanShop()
const { van, open } = shop

const A = panelId(0)
const B = panelId(40)

test.each([
  { panels: 3, size: 'wall', language: 'en' },
  { panels: 12, size: 'wall', language: 'es' },
  { panels: 3, size: 'phone', language: 'en' },
] as const)(
  'of two panels with one name the job is read on $panels lanes and more, its menu, its bell and its undo bar, $size, $language',
  async ({ panels, size, language }) => {
    await van(panels, undefined, { language })
    const job = 'GQ2FJAB2'
    await shop.site.send('OpenJob', {
      job,
      title: 'Taxi ABC 123, the one with the roof rails and a trailer hitch',
    })
    const wish = { job, name: 'Rear quarter, right', operation: 'repair', areaM2: 0.5 }
    await shop.site.send('AddPanel', { ...wish, panel: B, route: CLEAR_ROUTE })
    const { page, close } = await open({ size })
    await page.locator(lane(B)).scrollIntoViewIfNeeded()
    const lines = page.locator(`${lane(B)} .minor`)
    expect((await lines.first().textContent())?.slice(0, 12)).toBe('Taxi ABC 123')
    // The line below it is whole, and none of the three is cut off at the bottom.
    const isCut = () =>
      lines.last().evaluate(async (line) => {
        await document.fonts.ready
        const row = line.closest('.lane')?.getBoundingClientRect()
        const { bottom } = line.getBoundingClientRect()
        return line.scrollWidth > line.clientWidth + 1 || bottom > (row?.bottom ?? 0) + 2
      })
    await expect.poll(isCut).toBe(false)
    await shot(page, `same-names-${panels}-${size}-${language}`)
    await page.click(lane(B))
    const title = 'Rear quarter, right (Taxi ABC 123, the one w…)'
    await page.waitForSelector(`.act-head h2 >> text=${title}`)
    await shot(page, `same-names-menu-${panels}-${size}-${language}`)
    await page.click('[data-act=StartCoat].main')
    await waitsFor(page, B, 'spraying')
    await page.waitForSelector(`.undo-bar >> text=${title}`)
    await shop.site.send('FinishCoat', { panels: [B] })
    await shop.site.send('FinishCoat', { panels: [A], cup: CUP })
    shop.site.clock.move(10.1 * MINUTE)
    await page.waitForSelector(`.bell.card >> text=${title}`)
    await shot(page, `same-names-bell-${panels}-${size}-${language}`)
    await close()
  },
)

test('a part that is typed twice for one job is numbered before it is added', async () => {
  await van(1)
  const { page, close } = await open({ path: `/#/jobs/${JOB}/panels` })
  for (let n = 0; n < 2; n += 1) {
    await page.fill('[data-field=other] input', 'Bracket')
    await page.press('[data-field=other] input', 'Enter')
  }
  await page.waitForSelector('[data-chosen="Bracket 2"]')
  await page.click('[data-act=AddPanel]')
  const names = () =>
    Object.values(shop.site.shops.ownWriter.state().things.panel).map(({ context }) => context.name)
  await expect.poll(names).toContain('Bracket 2')
  expect(names()).toContain('Bracket')
  await close()
})
