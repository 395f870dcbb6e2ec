import { openVan, START, setUp, sprayAway } from '../browser/busyShop.ts'
import { serveShop } from '../support/browserShop.ts'
import { type Chromium, openChromium } from './devtools.ts'
import { median, note, say, times, title } from './figures.ts'
import { oursAtMost, type Put, part } from './table.ts'

/**
 * First useful paint: from the start of the navigation to the frame that shows the Wall's lanes, or
 * that nothing is running. Each load has a browser context of its own, so nothing is kept from before.
 * On a busy machine the page waits for a processor; the processor time of its main thread does not
 * hold such waits, and stands beside. A bare page is loaded in turn with the Wall: what it takes is
 * the machine's and not ours.
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

const BARE = '<!doctype html><title>bare</title><p class="empty">Nothing is running.'

const WALLS = ['an empty Wall', 'a Wall of five lanes'] as const
type What = `${(typeof WALLS)[number]}, processor slowed ${typeof SLOW} times, p50`
const rowOf = (wall: (typeof WALLS)[number]): What => `${wall}, processor slowed ${SLOW} times, p50`

const PROMISED = { [rowOf(WALLS[0])]: oursAtMost(1_000), [rowOf(WALLS[1])]: oursAtMost(1_000) }

export const paint = part<What>(
  'paint',
  PROMISED as Record<What, ReturnType<typeof oursAtMost>>,
  async (put) => {
    title('First useful paint, nothing kept from before')
    const browser = await openChromium()
    const bare = Bun.serve({
      port: 0,
      hostname: '127.0.0.1',
      fetch: () => new Response(BARE, { headers: { 'Content-Type': 'text/html' } }),
    })
    const empty = await serveShop(START)
    await setUp(empty)
    const busy = await serveShop(START)
    await setUp(busy)
    await openVan(busy, LANES)
    await sprayAway(busy, LANES)
    const floor = `http://127.0.0.1:${bare.port}`
    await measure(browser, { url: empty.url, floor, wall: WALLS[0], put })
    await measure(browser, { url: busy.url, floor, wall: WALLS[1], put })
    note('The server is on the same machine: a network adds its own time.')
    await browser.close()
    await Promise.all([empty.stop(), busy.stop(), bare.stop(true)])
  },
)

type Load = { readonly drawnMs: number; readonly threadMs: number }

type Measuring = {
  readonly url: string
  readonly floor: string
  readonly wall: (typeof WALLS)[number]
  readonly put: Put<What>
}

async function measure(browser: Chromium, { url, floor, wall, put }: Measuring): Promise<void> {
  await load(browser, url, 1)
  const full: Load[] = []
  const slowed: Load[] = []
  const bare: Load[] = []
  // In turn, so that what else the machine does falls on all alike.
  for (let n = 0; n < LOADS; n += 1) {
    full.push(await load(browser, url, 1))
    slowed.push(await load(browser, url, SLOW))
    bare.push(await load(browser, floor, SLOW))
  }
  const drawn = (all: readonly Load[]) => all.map(({ drawnMs }) => drawnMs)
  put(rowOf(wall), {
    ours: median(drawn(slowed)),
    unit: 'ms',
    limit: { what: 'a bare page', value: median(drawn(bare)) },
  })
  times(`${wall}, processor slowed ${SLOW} times`, drawn(slowed))
  times(`${wall}, at full speed`, drawn(full))
  times(`a bare page, processor slowed ${SLOW} times`, drawn(bare))
  say('slowed / at full speed, medians', median(drawn(slowed)) / median(drawn(full)), 'x')
  const threadMs = median(full.map((one) => one.threadMs))
  say('main thread at full speed, processor time', threadMs, 'ms')
  say(`the same ${SLOW} times`, threadMs * SLOW, 'ms', '(of 1000)')
}

async function load(browser: Chromium, url: string, slow: number): Promise<Load> {
  const context = await browser.context()
  const tab = await browser.tab({ context, ownWindow: true, before: WATCH })
  await tab.ask('Performance.enable', { timeDomain: 'threadTicks' })
  await tab.ask('Emulation.setCPUThrottlingRate', { rate: slow })
  await tab.open(url)
  await tab.until('window.drawnMs > 0')
  const drawnMs = await tab.evaluate<number>('window.drawnMs')
  const threadMs = 1_000 * (await tab.metric('TaskDuration'))
  await tab.close()
  return { drawnMs, threadMs }
}
