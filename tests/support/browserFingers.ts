import type { Page } from 'playwright-core'
import { CONTROLS, REPEAT_MS, REPEATED } from '../../kiosk/device/controls.ts'

/** Longer than what the page takes for one press. */
const FINGER_MS = REPEAT_MS + 50

/**
 * Notes in the page which control was pressed last, before the page itself hears of it, and says how long
 * a press of an element must wait until it counts, ms. By the page's clock, which is that of its events.
 */
const NOTED = `{
  let last = { control: null, atMs: 0 }
  const controlOf = (target) => target.closest?.('${CONTROLS}') ?? null
  addEventListener('click', ({ target, timeStamp }) => {
    last = { control: controlOf(target), atMs: timeStamp }
  }, true)
  window.pressLeftMs = (element) => {
    const control = controlOf(element)
    const isFree = control === null || control !== last.control || control.closest('${REPEATED}')
    return isFree ? 0 : Math.max(0, last.atMs + ${FINGER_MS} - performance.now())
  }
}`

/**
 * No finger presses a control twice as fast as a program does: a click or tap waits until it is another
 * press, whatever the control is called by then. On a fast machine the second would else not count.
 */
export async function paced(page: Page): Promise<void> {
  await page.addInitScript(NOTED)
  const frame = page.mainFrame()
  for (const press of ['click', 'tap'] as const) {
    const own = frame[press].bind(frame)
    frame[press] = async (selector, options) => {
      const element = await frame.waitForSelector(selector, options)
      const leftMs = await element
        .evaluate((e): number => Reflect.get(globalThis, 'pressLeftMs')(e))
        // Gone by now: it is looked for again, and is another control then.
        .catch(() => 0)
      await element.dispose()
      if (leftMs > 0) await page.waitForTimeout(leftMs)
      await own(selector, options)
    }
  }
}
