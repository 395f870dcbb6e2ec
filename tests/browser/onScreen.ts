import type { Page } from 'playwright-core'

/** What the browser tests ask of a page: lanes, sizes on the glass, what does not fit. */

export const lane = (panel: string): string => `[data-panel="${panel}"]`

export const waitsFor = (page: Page, panel: string, what: string) =>
  page.waitForSelector(`${lane(panel)}[data-waits="${what}"]`)

/** The page's files are kept, and the worker answers for them: it can be loaded without its server. */
export const isInstalled = (page: Page) =>
  page.waitForFunction(async () => {
    const ready = await navigator.serviceWorker.ready
    return ready.active?.state === 'activated' && navigator.serviceWorker.controller !== null
  })

/** Goes to another place of the same page, such as "jobs", a job's id and "history". */
export const openHash = (page: Page, ...path: readonly string[]) =>
  page.evaluate(
    (hash) => {
      location.hash = hash
    },
    `#/${path.join('/')}`,
  )

/** Presses for as long as is wanted: Hold asks for a second. */
export async function hold(page: Page, selector: string): Promise<void> {
  // It waits until the key rests, and lies where it is pressed.
  await page.hover(selector)
  await page.mouse.down()
}

/** How far the page, or its screen within the frame, is wider than what is seen. */
export const overflowPx = (page: Page): Promise<number> =>
  page.evaluate(async () => {
    await document.fonts.ready
    return Math.max(
      ...[document.documentElement, ...document.querySelectorAll('main')].map(
        (e) => e.scrollWidth - e.clientWidth,
      ),
    )
  })

/** Height of a digit on the glass, in the millimeters of this kiosk (not measured: CSS's own). */
export function heightMm(page: Page, selector: string): Promise<number> {
  return page
    .locator(selector)
    .first()
    .evaluate(async (e) => {
      await document.fonts.ready
      const draw = document.createElement('canvas').getContext('2d')
      if (draw === null) return 0
      const { fontFamily, fontSize, fontWeight } = getComputedStyle(e)
      draw.font = `${fontWeight} ${fontSize} ${fontFamily}`
      return draw.measureText('0').actualBoundingBoxAscent / (96 / 25.4)
    })
}

/** Holds back every command of a page until it is let go. @returns lets go */
export async function holdBack(page: Page): Promise<() => void> {
  let letGo = () => {}
  const free = new Promise<void>((done) => {
    letGo = done
  })
  await page.route('**/api/commands', async (route) => {
    await free
    // The page may have given up on it meanwhile.
    await route.continue().catch(() => {})
  })
  return letGo
}

/** How many entries of the log a page keeps on its device; none before the page has made the place for them itself. */
export const entriesKnown = (page: Page): Promise<number> =>
  page.evaluate(
    () =>
      new Promise((done) => {
        const asked = indexedDB.open('flashbell-log')
        asked.onupgradeneeded = () => asked.transaction?.abort()
        asked.onerror = () => done(0)
        asked.onsuccess = () => {
          const count = asked.result.transaction('known').objectStore('known').count()
          count.onsuccess = () => {
            asked.result.close()
            done(count.result)
          }
        }
      }),
  )
