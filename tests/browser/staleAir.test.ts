import { expect, test } from 'vitest'
import { shot } from '../support/browser.ts'
import { CUP, MINUTE, panelId } from './busyShop.ts'
import { lane } from './onScreen.ts'
import { vanShop } from './vanShop.ts'

/** Air that was read too long ago: how long, and what can be done without it. */

const shop = vanShop()
const A = panelId(0)

test.each([
  ['wall', 'en', 'read 91 min ago', 'Or press START'],
  ['phone', 'es', 'leído hace 91 min', 'O pulse EMPEZAR'],
] as const)(
  'an old reading says its age, and START is named only where it is: %s, %s',
  async (size, language, age, orStart) => {
    await shop.van(1, undefined, { language })
    await shop.site.send('EmptyCup', { cup: CUP, how: 'used' })
    shop.site.clock.move(90.2 * MINUTE)
    const { page, close } = await shop.open({ size })
    await page.waitForSelector(`.climate >> text=${age}`)
    await page.click(lane(A))
    await page.waitForSelector('.act-sheet .no-air [data-act=readAir]')
    expect(await page.textContent('.act-sheet')).not.toContain(orStart)
    await shot(page, `stale-air-${size}-${language}`)
    await close()
  },
)
