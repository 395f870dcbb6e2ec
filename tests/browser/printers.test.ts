import { afterEach, beforeEach, expect, test } from 'vitest'
import { settingsOf } from '../../machines/shop/settings.ts'
import { openPage, shot } from '../support/browser.ts'
import { browserForTests } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { type RecordedPrinter, recordedPrinter } from '../support/ippAnswers.ts'
import { CUP, openVan, START, setUp } from './busyShop.ts'

const browser = browserForTests()
let printer: RecordedPrinter
let site: ShopSite
beforeEach(async () => {
  printer = recordedPrinter()
  site = await serveShop(START, undefined, undefined, printer.post)
  await setUp(site)
  await openVan(site, 1)
})
afterEach(() => site.stop())
const labelsOf = () => settingsOf(site.shops.ownWriter.state()).labels ?? {}
const prints = () => site.shops.ownWriter.state().things.cup[CUP]?.context.prints ?? []

test('a printer is added by its address, tested, and prints the label of a cup', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/setup/printers' })
  await page.fill('[name=address]', 'ipp://localhost:18631/ipp/print')
  await page.keyboard.press('Enter')
  await page.waitForSelector('[data-pick=media] [aria-pressed=true] >> text=57 x 32 mm')
  await shot(page, 'setup-printer-found')
  await page.click('[data-act=savePrinter]')
  await page.waitForSelector('[data-printer] >> text=Ready.')
  await page.click('[data-act=ruler]')
  await expect.poll(() => printer.taken.length).toBe(1)
  await page.click('[data-act=here]')
  await page.waitForSelector('text=This kiosk prints here.')
  await shot(page, 'setup-printers')

  await page.goto(`${site.url}/#/cups/${CUP}`)
  await page.waitForSelector('[data-act=printHere]')
  // One key prints; the device's own dialog is called what it is.
  await expect.poll(() => page.locator('.cup-label .acts button >> text=/^PRINT/').count()).toBe(1)
  await page.waitForSelector('[data-act=print] >> text=This device’s print dialog')
  await shot(page, 'label-one-print-key')
  await page.click('[data-act=printHere]')
  await expect.poll(() => prints().length).toBe(1)
  expect(printer.taken).toHaveLength(2)
  await page.waitForSelector('[data-act=again-lost]')
  await shot(page, 'label-printed')
  await close()
})

test('for a printer that names no paper one is chosen, and a label of that size is sent', async () => {
  printer.saysNothingOf('media')
  const { page, close } = await openPage(browser, site, { path: '/#/setup/printers' })
  await page.fill('[name=address]', 'ipp://localhost:18631/ipp/print')
  await page.keyboard.press('Enter')
  await page.waitForSelector('text=This printer does not say what is in it. Choose it here.')
  await page.click('[data-pick=media] >> text=62 x 40 mm')
  await shot(page, 'setup-printer-no-paper')
  await page.click('[data-act=savePrinter]')
  await page.waitForSelector('[data-printer] >> text=Ready.')
  await page.click('[data-act=here]')
  await page.goto(`${site.url}/#/cups/${CUP}`)
  await page.click('[data-act=printHere]')
  await expect.poll(() => prints().length).toBe(1)
  const [sent] = printer.taken
  const job = sent?.groups.flatMap(({ attributes }) => attributes) ?? []
  // Of no name that it might know otherwise: by its size in hundredths of a millimeter (PWG 5100.7).
  expect(job.some(({ name }) => name === 'media')).toBe(false)
  const size = JSON.stringify(job.find(({ name }) => name === 'media-col'))
  expect(size).toMatch(/"x-dimension".*6200.*"y-dimension".*4000/)
  await close()
})

test('out of labels is said on the Wall with the cup that has none, until it is written by hand', async () => {
  const { page, close } = await openPage(browser, site, { path: '/#/setup/printers' })
  await page.fill('[name=address]', 'ipp://localhost:18631/ipp/print')
  await page.click('[data-act=askPrinter]')
  await page.click('[data-act=savePrinter]')
  await page.waitForSelector('[data-printer]')
  printer.answers('getPrinterAttributes', 'aboutEmpty')
  await page.goto(`${site.url}/#/cups/${CUP}`)
  await page.click('[data-act=printHere]')
  await page.waitForSelector('[data-network-print] >> text=out of labels')
  await page.waitForSelector('[data-printing=outOfMedia]')
  await page.goto(`${site.url}/#/wall`)
  await page.waitForSelector('[data-printing=outOfMedia] >> text=out of labels')
  await page.waitForSelector(`.cup[data-cup=${CUP}] >> text=LABEL NOT PRINTED`)
  await shot(page, 'wall-printer-empty')
  await page.goto(`${site.url}/#/cups`)
  await page.waitForSelector(`.cup-card[data-cup=${CUP}] >> text=LABEL NOT PRINTED`)
  await page.goto(`${site.url}/#/scan/${CUP}`)
  await page.waitForSelector('.scan-cup >> text=LABEL NOT PRINTED')
  await page.goto(`${site.url}/#/wall`)
  await page.click(`[data-printing] >> text=${CUP}`)
  await page.click('[data-act=byHand]')
  await expect.poll(() => prints().length).toBe(1)
  await page.waitForSelector('[data-act=again-lost]')
  expect(printer.taken).toHaveLength(0)
  await page.goto(`${site.url}/#/wall`)
  await page.waitForSelector(`.cup[data-cup=${CUP}]`)
  await expect.poll(() => page.locator('text=LABEL NOT PRINTED').count()).toBe(0)
  await close()
})

const NOTES = {
  en: [
    '10 mm or more below the rim',
    'solvent for 60 s',
    'no proof of compliance',
    'need red ones',
  ],
  es: ['10 mm', '60 s', 'no prueba de cumplimiento', 'lo necesitan rojo'],
}

test.each([
  ['wall', 'en', 'SAVE', /14\.5 mm wide\. On a cup of 50 mm .* 12\.5 mm/],
  ['phone', 'es', 'GUARDAR', /14\.5 mm de ancho\. En un vaso de 50 mm .* 12\.5 mm/],
] as const)(
  'the shop’s cups and the address for phones are set on a %s in %s: too wide a code is warned of',
  async (size, language, save, warning) => {
    await site.send('ChangeSettings', { language })
    const { page, close } = await openPage(browser, site, { size, path: '/#/setup/printers' })
    await page.fill('[name=address]', 'ipp://localhost:18631/ipp/print')
    await page.keyboard.press('Enter')
    await page.click('[data-act=savePrinter]')
    await page.waitForSelector('[data-printer]')
    // Where a label is put, what it is printed on, and that it proves nothing.
    for (const said of NOTES[language])
      await expect.poll(() => page.textContent('.setup')).toContain(said)
    expect(await page.locator('[data-too-wide]').count()).toBe(0)
    const form = page.locator('[data-form=labels]')
    // By the keyboard: what a change takes off the page moves the button.
    const saves = () => page.keyboard.press('Enter')
    await form.locator(`button[type=submit] >> text=${save}`).waitFor()
    const saved = async (labels: object) => {
      await expect.poll(labelsOf).toEqual(labels)
      await form.locator(`text=${language === 'en' ? 'Saved' : 'Guardado'}`).waitFor()
    }
    for (const [n, mm] of ['90', '50'].entries()) {
      await form.locator('[data-add=cupsMm]').click()
      await form.locator('[data-field=cupsMm] input').nth(n).fill(mm)
    }
    await saves()
    await saved({ cupsMm: [90, 50] })
    const warned = await page.waitForSelector('[data-printer] [data-too-wide="50"]')
    await expect.poll(() => warned.textContent()).toMatch(warning)
    await form.scrollIntoViewIfNeeded()
    await shot(page, `setup-labels-${size}-${language}`)
    // Where an address is refused, it says which is taken, and the cups stay.
    await form.locator('[name=phoneAddress]').fill('flashbell.lan')
    await saves()
    await page.waitForSelector('[data-form=labels] [role=alert] >> text=http://flashbell.lan:4600')
    await form.locator('[name=phoneAddress]').fill('http://flashbell.lan:4600')
    await saves()
    await saved({ cupsMm: [90, 50], phoneAddress: 'http://flashbell.lan:4600' })
    await page.goto(`${site.url}/#/cups/${CUP}`)
    const onLabel = await page.waitForSelector('.cup-label [data-too-wide="50"]')
    // Four modules more a side.
    await expect.poll(() => onLabel.textContent()).toContain('16.5 mm')
    await shot(page, `label-too-wide-${size}-${language}`)
    await form.page().goto(`${site.url}/#/setup/printers`)
    await form.locator('[name=phoneAddress]').fill('')
    await saves()
    await saved({ cupsMm: [90, 50] })
    await close()
  },
)
