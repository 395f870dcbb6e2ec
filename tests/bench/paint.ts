import { openVan, START, setUp, sprayAway } from '../browser/busyShop.ts'
import { type ShopSite, serveShop } from '../support/browserShop.ts'
import { type Chromium, openChromium } from './devtools.ts'
import { median, note, say, times, title } from './figures.ts'

/**
 * First useful paint: from the start of the navigation to the frame that shows the Wall's lanes, or
 * that nothing is running. Each load has a browser context of its own, so nothing is kept from before.
 */

const LOADS = 7
const SLOW = 4
const LANES = 5

/** Notes in the page when the Wall has been drawn, ms after the navigation began. */
const WATCH = `(() => {
  const watch = new MutationObserver(() => {
    if (!document.querySelector('.lane, .empty')) return
    watch.disconnect()
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel()
      port1.onmessage = () => { window.drawnMs = performance.now() }
      port2.postMessage(null)
    })
  })
  watch.observe(document, { subtree: true, childList: true })
})()`

export async function paint(): Promise<void> {
  title('First useful paint, nothing kept from before')
  const browser = await openChromium()
  const empty = await serveShop(START)
  await setUp(empty)
  const busy = await serveShop(START)
  await setUp(busy)
  await openVan(busy, LANES)
  await sprayAway(busy, LANES)
  await measure(browser, empty, 'an empty Wall')
  await measure(browser, busy, `${LANES} lanes`)
  note('The server is on the same machine: a network adds its own time.')
  await browser.close()
  await Promise.all([empty.stop(), busy.stop()])
}

async function measure(browser: Chromium, site: ShopSite, what: string): Promise<void> {
  await load(browser, site, 1)
  const full: number[] = []
  const slowed: number[] = []
  // In turn, so that what else the machine does falls on both alike.
  for (let n = 0; n < LOADS; n += 1) {
    full.push(await load(browser, site, 1))
    slowed.push(await load(browser, site, SLOW))
  }
  times(`${what}, processor slowed ${SLOW} times`, slowed, '(target p50 1000)')
  times(`${what}, at full speed`, full)
  say('slowed / at full speed, medians', median(slowed) / median(full), 'x')
}

async function load(browser: Chromium, site: ShopSite, slow: number): Promise<number> {
  const context = await browser.context()
  const tab = await browser.tab({ context, ownWindow: true, before: WATCH })
  await tab.ask('Emulation.setCPUThrottlingRate', { rate: slow })
  await tab.open(site.url)
  await tab.until('window.drawnMs > 0')
  const drawnMs = await tab.evaluate<number>('window.drawnMs')
  await tab.close()
  return drawnMs
}
