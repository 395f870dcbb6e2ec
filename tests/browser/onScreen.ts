import type { Page } from 'playwright-core'

/** What the browser tests ask of a page: lanes, sizes on the glass, what does not fit. */

export const lane = (panel: string): string => `[data-panel="${panel}"]`

export const waitsFor = (page: Page, panel: string, what: string) =>
  page.waitForSelector(`${lane(panel)}[data-waits="${what}"]`)

/** How far the page, or its screen within the frame, is wider than what is seen. */
export const overflowPx = (page: Page): Promise<number> =>
  page.evaluate(() =>
    Math.max(
      ...[document.documentElement, ...document.querySelectorAll('main')].map(
        (e) => e.scrollWidth - e.clientWidth,
      ),
    ),
  )

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
