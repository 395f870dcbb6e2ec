import { afterEach, expect, test } from 'vitest'
import { csvTemplate } from '../../kiosk/setup/sheetCsv.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'

/** Sheets that come as a table from a spreadsheet. */

const START = Date.UTC(2026, 10, 25, 8)
const browser = browserForTests(SOUND)
let site: ShopSite
afterEach(() => site.stop())

test.each([
  ['wall', 'en', /Row 2, medium/],
  ['phone', 'es', /Fila 2, medium/],
] as const)(
  'a table is looked at before it is taken, and each wrong cell is named: %s, %s',
  async (size, language, says) => {
    site = await serveShop(START)
    await site.send('ChangeSettings', { language })
    const { page, close } = await openPage(browser, site, { size, path: '/#/setup/sheets' })
    const sheets = () => site.shops.ownWriter.state().things.sheet
    const take = (text: string) =>
      page.setInputFiles('.sheet-files .load-file input', {
        name: 'sheets.csv',
        mimeType: 'text/csv',
        buffer: Buffer.from(text),
      })
    // The template that the page hands out is the table that it takes.
    const href = (await page.getAttribute('[data-act=csvTemplate]', 'href')) ?? ''
    const template = decodeURIComponent(href.slice(href.indexOf(',') + 1))
    expect(template).toBe(csvTemplate())
    await take(template.replace('solvent', 'oil').replace(';60;', ';soon;'))
    await page.waitForSelector('.sheet-files .sentence')
    const said = (await page.textContent('.sheet-files .sentence')) ?? ''
    expect(said).toMatch(says)
    expect(said).toContain('potLifeMin')
    await shot(page, `sheet-table-wrong-${size}`)
    expect(sheets()).toEqual({})
    await take(template)
    await page.waitForSelector('[data-preview=new] >> text=EXAMPLE 2K clear')
    await shot(page, `sheet-table-${size}`)
    await page.click('[data-act=ImportSheets]')
    await expect
      .poll(() => sheets()['example-2k-clear']?.context.versions.at(-1)?.sheet)
      .toMatchObject({
        sample: true,
        potLife: [{ atC: 20, minutes: 60 }],
      })
    await close()
  },
)
