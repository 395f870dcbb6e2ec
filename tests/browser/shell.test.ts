import { isDeepStrictEqual } from 'node:util'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { CORE, FIGURES } from '../../kiosk/fonts/core.ts'
import {
  openBrowser,
  openPage,
  type Site,
  serveKiosk,
  servePage,
  shot,
  untilSilent,
} from '../support/browser.ts'
import { problemsOf, rulesFor, targetsOn } from './targets.ts'

let browser: Browser
let kiosk: Site
let chips: Site
beforeAll(async () => {
  ;[browser, kiosk, chips] = await Promise.all([
    openBrowser(),
    serveKiosk(),
    servePage('pages/chips.tsx'),
  ])
})
afterAll(async () => {
  await browser.close()
  await Promise.all([kiosk.stop(), chips.stop()])
})

/** These files are served without the shop's server, as to a kiosk whose server is away. */
const alone = { path: '/#/setup', expected: /Failed to load resource/ }

async function untouched(options: Parameters<typeof openPage>[2]) {
  const opened = await openPage(browser, kiosk, { ...alone, ...options })
  await untilSilent(opened.page)
  return opened
}

const CSS_PX_PER_MM = 96 / 25.4
/** A 10.1 inch screen of 1280 x 800. */
const SMALL_WALL_PX_PER_MM = 5.87

const looks = (['wall', 'phone'] as const).flatMap((size) =>
  (['light', 'dark'] as const).map((colorScheme) => ({ size, colorScheme })),
)

test.each(looks)('the kiosk fits a $size in the $colorScheme', async (look) => {
  const { page, close } = await untouched(look)
  await shot(page, `kiosk-silent-${look.size}-${look.colorScheme}`)
  await page.click('.lamp')
  await page.waitForSelector('.lamp[data-sound=ready]')
  await shot(page, `kiosk-${look.size}-${look.colorScheme}`)
  expect(await overflowPx(page)).toBe(0)
  await close()
})

test.each(looks)('every bell’s chip fits a $size in the $colorScheme', async (look) => {
  const { page, close } = await openPage(browser, chips, look)
  await page.waitForSelector('.bell')
  await shot(page, `chips-${look.size}-${look.colorScheme}`)
  expect(await overflowPx(page)).toBe(0)
  await close()
})

const scales = [
  { what: 'a wall not measured yet', size: 'wall', px: null },
  { what: 'a small wall, measured', size: 'wall', px: SMALL_WALL_PX_PER_MM },
  { what: 'a phone', size: 'phone', px: null },
] as const

// A wall kiosk: 20 mm with 4 mm between, for gloves (no source). A phone: 44 px (WCAG 2.2 SC 2.5.5).
test.each(scales)(
  'on $what every target is large enough and apart from the next',
  async (scale) => {
    const { page, close } = await untouched({
      size: scale.size,
      prepare: async (page) => {
        await page.addInitScript((px) => {
          if (px !== null) localStorage.setItem('flashbell.pxPerMm', String(px))
        }, scale.px)
      },
    })
    await shot(page, `targets-${scale.what.replaceAll(/\W+/g, '-')}`)
    await page.waitForSelector('.sections')
    const targets = await targetsOn(page)
    expect(targets.length).toBeGreaterThan(15)
    const pxPerMm = scale.px ?? CSS_PX_PER_MM
    expect(problemsOf(targets, rulesFor(scale.size, pxPerMm))).toEqual([])
    expect(await overflowPx(page)).toBe(0)
    await close()
  },
)

test('a fault in one screen is shown, and stops nothing else', async () => {
  const fault = await servePage('pages/fault.tsx')
  const { page, close } = await openPage(browser, fault, { expected: /no route/ })
  await page.waitForSelector('.fragile')
  await page.evaluate(() => window.faulty.broken(true))
  await page.waitForSelector('.fault[role=alert] >> text=Clocks and bells keep running')
  await page.evaluate(() => window.faulty.tick())
  await page.waitForSelector('.beside >> text=1')
  // Nothing has changed: trying again says so again.
  await page.click('[data-act=again]')
  await page.waitForSelector('.fault')
  await page.evaluate(() => window.faulty.broken(false))
  await page.click('[data-act=again]')
  await page.waitForSelector('.fragile')
  await close()
  await fault.stop()
})

test('capitals of ordinary text are 4.5 mm high, from our own font', async () => {
  const { page, close } = await openPage(browser, kiosk, alone)
  await page.waitForSelector('.shell')
  const measured = await page.evaluate(async () => {
    await document.fonts.ready
    const loaded = [...document.fonts].filter((f) => f.status === 'loaded').map((f) => f.family)
    const draw = document.createElement('canvas').getContext('2d')
    if (draw === null) return null
    const { fontFamily, fontSize } = getComputedStyle(document.body)
    draw.font = `500 ${fontSize} ${fontFamily}`
    return { capsPx: draw.measureText('H').actualBoundingBoxAscent, loaded }
  })
  expect(measured?.loaded.join()).toContain('Atkinson Hyperlegible Next')
  expect((measured?.capsPx ?? 0) / CSS_PX_PER_MM).toBeGreaterThanOrEqual(4.45)
  await close()
})

/** Which fonts draw the text of the body: the browser's own word for it. */
async function drawnBy(page: Page) {
  const cdp = await page.context().newCDPSession(page)
  await cdp.send('DOM.enable')
  await cdp.send('CSS.enable')
  const { root } = await cdp.send('DOM.getDocument')
  const { nodeId } = await cdp.send('DOM.querySelector', { nodeId: root.nodeId, selector: '.said' })
  const { fonts } = await cdp.send('CSS.getPlatformFontsForNode', { nodeId })
  return fonts.filter(({ glyphCount }) => glyphCount > 0).map(({ isCustomFont }) => isCustomFont)
}

test.each([
  ['words', 'text', CORE, [0]],
  ['figures', 'digits', FIGURES, [0]],
  // The page that was there before may have fetched the second file already.
  ['words among figures', 'digits', CORE, [0, 1]],
  ['names of other countries', 'text', 'Łukasz Gärtner, Çelik & Šarić: Ø 3', [1, 2]],
])('every letter of %s is of our own font, as %s', async (_what, kind, said, files) => {
  const { page, close } = await openPage(browser, chips)
  // What this page's own words fetch comes before.
  await page.evaluate(() => document.fonts.ready)
  const fetched: string[] = []
  page.on('request', (request) => fetched.push(request.url()))
  await page.evaluate(
    async ([said = '', kind = '']) => {
      const line = document.createElement('pre')
      line.className = `said ${kind}`
      if (kind === 'text') line.style.font = 'inherit'
      line.textContent = said
      document.body.replaceChildren(line)
      await document.fonts.ready
    },
    [said, kind],
  )
  await expect.poll(() => drawnBy(page)).not.toContain(false)
  const more = fetched.filter((url) => url.includes('-latin-'))
  expect(files).toContain(new Set(more).size)
  await close()
})

test('a countdown keeps its width as it runs', async () => {
  const { page, close } = await openPage(browser, chips)
  const widths = await page.evaluate(async () => {
    await document.fonts.ready
    const box = document.createElement('span')
    document.body.append(box)
    const seen = new Set<number>()
    for (const family of ['digits', ''])
      for (let s = 0; s < 60; s++) {
        box.className = family
        box.textContent = `1${family}:${String(s).padStart(2, '0')}`
        seen.add(box.getBoundingClientRect().width)
      }
    return seen.size
  })
  expect(widths).toBe(2)
  await close()
})

test('the size of a millimeter and the theme are kept on the device', async () => {
  const { page, close } = await untouched({})
  await page.click('text=+ 5 mm')
  await page.getByRole('button', { name: 'Dark', exact: true }).click()
  await page.reload()
  const barPx = await page.locator('.ruler').evaluate((e) => e.getBoundingClientRect().width)
  expect(barPx / (100 * CSS_PX_PER_MM)).toBeCloseTo(1.05, 3)
  await expect.poll(() => page.getAttribute('html', 'data-theme')).toBe('dark')
  const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor)
  expect(paper).toBe('rgb(17, 22, 28)')
  await close()
})

test('switching the theme moves nothing', async () => {
  const { page, close } = await untouched({})
  const layout = () =>
    page.evaluate(() =>
      [...document.querySelectorAll('#kiosk *')].map((e) => e.getBoundingClientRect().toJSON()),
    )
  // What comes late, such as a font, may move things between two looks, but not between all of them.
  const inDark = async () => {
    await page.emulateMedia({ colorScheme: 'light' })
    const light = await layout()
    await page.emulateMedia({ colorScheme: 'dark' })
    return { light, dark: await layout() }
  }
  await expect.poll(inDark).toSatisfy(({ light, dark }) => isDeepStrictEqual(light, dark))
  await close()
})

test('the kiosk says that it is not synchronized while it has not heard its server', async () => {
  const { page, close } = await openPage(browser, kiosk, alone)
  await page.waitForSelector('text=not synchronized')
  await close()
})

test('where motion is reduced a bell does not blink and has a double outline instead', async () => {
  const of = async (reducedMotion: 'reduce' | 'no-preference') => {
    const { page, close } = await openPage(browser, chips, { reducedMotion })
    const style = await page
      .locator('.bell[data-state=sounding]')
      .first()
      .evaluate((e) => {
        const { animationName, outlineStyle, outlineWidth } = getComputedStyle(e)
        return { animationName, outlineStyle, outlineWidth }
      })
    await close()
    return style
  }
  expect(await of('reduce')).toEqual({
    animationName: 'none',
    outlineStyle: 'double',
    outlineWidth: '8px',
  })
  expect(await of('no-preference')).toMatchObject({ animationName: 'bell-blink' })
})

const overflowPx = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
