import { JOB, MINUTE, openVan, panelId, START, setUp, sprayAway } from '../browser/busyShop.ts'
import { serveShop } from '../support/browserShop.ts'
import { openChromium } from './devtools.ts'
import { median } from './figures.ts'

/** What a trace of some 200 entries takes in a browser: drawn after a touch, and told again at another moment. */

const PANELS = 5
const ENTRIES = 200
const STEPS = 20

/** Waits in the page until what changed is on the screen; ms since `from`. */
const FRAME = `const framed = () => new Promise((done) => requestAnimationFrame(() => {
  const { port1, port2 } = new MessageChannel()
  port1.onmessage = () => done(performance.now())
  port2.postMessage(null)
}))`

/** How long the answer alone takes, from another screen. */
const ANSWERED = `(async () => {
  ${FRAME}
  location.hash = '#/jobs'
  await framed()
  const asked = performance.now()
  await (await fetch('/api/jobs/${JOB}/trace')).json()
  return performance.now() - asked
})()`

/** From the touch on TRACE to the frame with the timeline. */
const DRAWN = `(async () => {
  ${FRAME}
  const from = performance.now()
  location.hash = '#/trace/${JOB}'
  while (!document.querySelector('.trace-box svg [data-mark]')) await framed()
  return (await framed()) - from
})()`

const stepTo = (share: number) => `(async () => {
  ${FRAME}
  const slider = document.querySelector('.trace-moment')
  const from = performance.now()
  slider.value = Number(slider.min) + ${share} * (Number(slider.max) - Number(slider.min))
  slider.dispatchEvent(new Event('input', { bubbles: true }))
  return (await framed()) - from
})()`

export type Drawn = {
  readonly entries: number
  readonly drawnMs: number
  /** Of `drawnMs`, what the same answer takes by itself. */
  readonly answerMs: number
  readonly stepMs: number
  /** The same of the page's own thread alone, in processor time: a busy machine does not blur it. */
  readonly drawnThreadMs: number
  readonly stepThreadMs: number
}

export async function traceDrawn(): Promise<Drawn> {
  const site = await serveShop(START)
  await setUp(site)
  await openVan(site, PANELS)
  await sprayAway(site, PANELS)
  const told = async () => {
    const answer = await fetch(`${site.url}/api/jobs/${JOB}/trace`)
    return ((await answer.json()) as { entries: object[] }).entries.length
  }
  for (let n = await told(); n < ENTRIES; n += 1) {
    site.clock.move(MINUTE / 4)
    const panel = panelId(n % PANELS)
    await site.send('InspectCoat', { panel, result: 'good' })
  }
  const browser = await openChromium()
  const tab = await browser.tab({ context: await browser.context(), ownWindow: true })
  await tab.open(site.url)
  await tab.until("document.querySelector('.lane') !== null")
  /** What a script took by the clock, and the thread of the page for it. */
  const timed = async (script: string) => {
    const before = await tab.metric('TaskDuration')
    const ms: number = await tab.evaluate(script)
    return { ms, threadMs: 1_000 * ((await tab.metric('TaskDuration')) - before) }
  }
  const rounds: { drawn: Awaited<ReturnType<typeof timed>>; answered: number }[] = []
  for (let n = 0; n < 5; n += 1) {
    const { ms: answered } = await timed(ANSWERED)
    rounds.push({ drawn: await timed(DRAWN), answered })
  }
  const steps: Awaited<ReturnType<typeof timed>>[] = []
  for (let n = 1; n <= STEPS; n += 1) steps.push(await timed(stepTo(n / (STEPS + 1))))
  const entries = await told()
  await browser.close()
  await site.stop()
  // The first of them fetched the screen as well.
  const later = rounds.slice(1)
  return {
    entries,
    drawnMs: median(later.map((one) => one.drawn.ms)),
    answerMs: median(later.map((one) => one.answered)),
    stepMs: median(steps.map((one) => one.ms)),
    drawnThreadMs: median(later.map((one) => one.drawn.threadMs)),
    stepThreadMs: median(steps.map((one) => one.threadMs)),
  }
}
