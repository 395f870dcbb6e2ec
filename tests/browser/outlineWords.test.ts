import { expect, test } from 'vitest'
import { bodyTypes } from '../../machines/trade/panels.ts'
import { shot } from '../support/browser.ts'
import { JOB } from './busyShop.ts'
import { vanShop } from './vanShop.ts'

const shop = vanShop()
const { van, open } = shop

test.each([
  ['phone', 'en'],
  ['phone', 'es'],
  ['wall', 'en'],
  ['wall', 'es'],
] as const)(
  'the name of every panel stands within what is touched: %s, %s',
  async (size, language) => {
    await van(1, undefined, { language })
    const { page, close } = await open({ size, path: `/#/jobs/${JOB}/panels` })
    for (const { id } of bodyTypes) {
      await page.click(`.choice [data-value="${id}"]`)
      await page.waitForSelector('.field-touch')
      await page.evaluate(() => document.fonts.ready)
      await shot(page, `outline-words-${id}-${size}-${language}`)
      const outside = await page.locator('.field-touch').evaluateAll((all) =>
        all.flatMap((touch) => {
          const box = touch.getBoundingClientRect()
          const name = touch.querySelector('.field-name')?.getBoundingClientRect()
          const isIn =
            name !== undefined &&
            name.left >= box.left - 1 &&
            name.right <= box.right + 1 &&
            name.top >= box.top - 1 &&
            name.bottom <= box.bottom + 1
          return isIn ? [] : [touch.textContent]
        }),
      )
      expect(outside).toEqual([])
    }
    await close()
  },
)
