import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { openPage } from '../support/browser.ts'
import { browserForTests, SOUND } from '../support/browserForTests.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { AXE, problemsNow, problemsStretched, SCREEN_PATHS } from './audit.ts'
import { BASE_CUP, busyVan, CUP, JOB, MINUTE, panelId, START, setUp } from './busyShop.ts'
import { lane } from './onScreen.ts'
import { type Rules, rulesFor } from './targets.ts'

/**
 * Every screen, in both themes, both languages and both sizes: axe-core without a violation, targets
 * large and far enough apart for gloves, text that stands out, nothing too wide,
 * and room for longer words.
 */

const browser = browserForTests(SOUND)

const SECTIONS = [
  'kiosk',
  'level',
  'meanings',
  'sheets',
  'guns',
  'air',
  'zones',
  'people',
  'bells',
  'shop',
]
/** Below the screens: what each shows of one thing. */
const DETAILS = [
  ...SECTIONS.map((name) => `setup/${name}`),
  `setup/sheets/${CLEAR.sheet}`,
  `setup/sheets/${CLEAR.sheet}/edit`,
  'setup/sheets/new',
  'setup/guns/gun-2',
  'setup/air/main',
  'setup/zones/booth',
  'air',
  'air/bench',
  'help/bench',
  'help/tour/1',
  'setup/people/lead-2',
  `scan/${CUP}`,
  `scan/${panelId(0)}`,
  'scan/ZZZZ',
  'jobs/new',
  `jobs/${JOB}`,
  `jobs/${JOB}/history`,
  `jobs/${JOB}/panels`,
  `jobs/${JOB}/panel/${panelId(0)}`,
  'jobs/close-day',
  'jobs/day',
  `cups/${CUP}`,
  `booth/${JOB}`,
]
const ROUTES = [...SCREEN_PATHS, ...DETAILS]

async function fullShop(language: string): Promise<ShopSite> {
  const site = await serveShop(START)
  await setUp(site, { language })
  for (const [person, name, role] of [
    ['painter-1', 'Painter One', 'painter'],
    ['lead-2', 'Lead Two', 'lead'],
  ])
    await site.send('AddPerson', { person, name, role })
  await busyVan(site)
  site.clock.move(MINUTE)
  for (const n of [0, 1]) {
    await site.send('FinishCoat', { panels: [panelId(n)], cup: BASE_CUP })
    site.clock.move(MINUTE)
  }
  await site.send('StartCoat', { panels: [panelId(2)], cup: BASE_CUP }, { by: 'painter-1' })
  return site
}

type Look = {
  readonly size: 'wall' | 'phone'
  readonly colorScheme: 'light' | 'dark'
  readonly language: 'en' | 'es'
}
const LOOKS: Look[] = (['wall', 'phone'] as const).flatMap((size) =>
  (['light', 'dark'] as const).flatMap((colorScheme) =>
    (['en', 'es'] as const).map((language) => ({ size, colorScheme, language })),
  ),
)

/** @param pxPerMm of a screen that was measured; the browser's own millimeter without it */
async function openLook(site: ShopSite, { size, colorScheme }: Look, pxPerMm?: number) {
  const opened = await openPage(browser, site, {
    size,
    colorScheme,
    // A blink shows two pictures by turns; the steady outline is one.
    reducedMotion: 'reduce',
    expected: /status of 404/,
    prepare: async (page) => {
      await page.addInitScript({ path: AXE })
      await page.addInitScript((px) => {
        if (px !== undefined) localStorage.setItem('flashbell.pxPerMm', String(px))
      }, pxPerMm)
    },
  })
  await opened.page.waitForSelector('.lane')
  await opened.page.evaluate(() => document.fonts.ready)
  return opened
}

const rules = (size: Look['size']): Rules => rulesFor(size, 96 / 25.4)

/** A route is there when its own screen has drawn: one that is still being fetched shows three dots. */
async function goTo(page: Page, route: string): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = `#/${hash}`
  }, route)
  await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn))))
  await page.waitForFunction(() => {
    const view = document.querySelector('main > :not(h1)')
    const isBusy = document.querySelector('main [aria-busy=true]') !== null
    return view !== null && view.textContent !== '…' && !isBusy
  })
  await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn))))
}

test('the audit knows of every screen', () => {
  expect(SCREEN_PATHS).toEqual(expect.arrayContaining(['wall', 'bench', 'jobs', 'scan', 'setup']))
})

test('the audit finds what is too small, too near, too faint, too wide and cut off', async () => {
  const site = await fullShop('en')
  const look = { size: 'wall', colorScheme: 'light', language: 'en' } as const
  const { page, close } = await openLook(site, look)
  await goTo(page, 'scan')
  expect(await problemsNow(page, rules('wall'))).toEqual([])
  await page.evaluate(() => {
    const add = (tag: string, text: string, style: object, name = '') => {
      const made = Object.assign(document.createElement(tag), { textContent: text })
      if (name !== '') made.className = name
      Object.assign(made.style, style)
      document.querySelector('main')?.append(made)
    }
    add('button', 'too small', { minHeight: '0', height: '70px' })
    add('p', 'too faint', { color: '#777' })
    add('button', 'too near', {})
    add('button', 'to this', {}, 'hold')
    add('p', 'too wide', { width: '3000px' })
    add('button', 'what is cut off', { width: '80px', whiteSpace: 'nowrap', padding: '0' })
  })
  const found = (await problemsNow(page, rules('wall'))).join('\n')
  expect(found).toMatch(/"too small" is \d+ x 70/)
  expect(found).toMatch(/"too near" and "to this" are \d px apart/)
  expect(found).toMatch(/color-contrast-enhanced: .*p/)
  expect(found).toMatch(/\d+ px wider than the screen/)
  expect(found).toMatch(/"what is cut off" is cut off/)
  await close()
  await site.stop()
})

test.each(LOOKS)(
  'every screen passes on a $size in the $colorScheme, in $language',
  async (look) => {
    const site = await fullShop(look.language)
    const { page, close } = await openLook(site, look)
    const problems: string[] = []
    for (const route of ROUTES) {
      await goTo(page, route)
      for (const problem of await problemsNow(page, rules(look.size)))
        problems.push(`#/${route} ${problem}`)
    }
    expect(problems).toEqual([])
    await close()
    await site.stop()
  },
)

/** A 10.1 inch screen of 1280 x 800. */
const SMALL_WALL_PX_PER_MM = 5.87

test('on a small screen that was measured every target is as large on the glass', async () => {
  const site = await fullShop('en')
  const look = { size: 'wall', colorScheme: 'light', language: 'en' } as const
  const { page, close } = await openLook(site, look, SMALL_WALL_PX_PER_MM)
  const problems: string[] = []
  for (const route of ROUTES) {
    await goTo(page, route)
    for (const problem of await problemsNow(page, rulesFor('wall', SMALL_WALL_PX_PER_MM)))
      problems.push(`#/${route} ${problem}`)
  }
  expect(problems).toEqual([])
  await close()
  await site.stop()
})

test.each(LOOKS.filter((look) => look.colorScheme === 'light' && look.language === 'en'))(
  'every screen has room for words longer by two fifths on a $size',
  async (look) => {
    const site = await fullShop(look.language)
    const { page, close } = await openLook(site, look)
    const problems: string[] = []
    for (const route of ROUTES) {
      await goTo(page, route)
      for (const problem of await problemsStretched(page, rules(look.size)))
        problems.push(`#/${route} ${problem}`)
      await page.reload()
      await page.waitForSelector('main')
    }
    expect(problems).toEqual([])
    await close()
    await site.stop()
  },
)

test.each(LOOKS)(
  'what opens, rings and takes over passes on a $size in the $colorScheme, in $language',
  async (look) => {
    const site = await fullShop(look.language)
    const { page, close } = await openLook(site, look)
    const problems: string[] = []
    const audit = async (what: string) => {
      for (const problem of await problemsNow(page, rules(look.size)))
        problems.push(`${what}: ${problem}`)
    }
    await page.click('.who-button')
    await page.waitForSelector('.who-dialog')
    await audit('who')
    await page.click('.people button')
    for (const n of [0, 2, 4]) {
      await page.click(lane(panelId(n)))
      await page.waitForSelector('.act-sheet')
      await audit(`acts of lane ${n}`)
      await page.click('.act-head button')
      await page.waitForSelector('.act-sheet', { state: 'detached' })
    }
    await page.click('[data-act=several]')
    for (const n of [0, 1]) await page.click(lane(panelId(n)))
    await audit('several')
    await page.click('.act-head button')
    await page.click(lane(panelId(2)))
    await page.click('[data-key=finish]')
    await page.waitForSelector('.undo-bar')
    await audit('undo')
    site.clock.move(46 * MINUTE)
    await page.waitForSelector('[data-bell]')
    await audit('ringing')
    await goTo(page, 'jobs')
    await audit('ringing on another screen')
    await page.click('[data-act=more]')
    await audit('all that rings')
    await goTo(page, 'booth')
    await audit('ringing in the Booth view')
    site.clock.move(16 * MINUTE)
    await page.waitForSelector('.takeover')
    await audit('pot life past')
    await page.click('[data-act=carryOn]')
    await page.waitForSelector('.takeover', { state: 'detached' })
    await goTo(page, 'wall')
    await audit('acknowledged')
    await goTo(page, 'setup/bells/1')
    await page.waitForSelector('[data-figure=sources]')
    await audit('figures of the bells')
    expect(problems).toEqual([])
    await close()
    await site.stop()
  },
)
