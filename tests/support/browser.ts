import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { Hono } from 'hono'
import {
  type Browser,
  type BrowserContextOptions,
  chromium,
  type Page,
  type Response,
} from 'playwright-core'
import { buildKiosk, type KioskFile } from '../../kiosk/build.ts'
import { guarded, guardOf } from '../../server/guard.ts'
import type { Env } from '../../server/http.ts'
import { findChromium } from './browserBinary.ts'
import { paced } from './browserFingers.ts'

/** A real Chromium for the tests, and the kiosk served as the server serves it. */

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]
const SHOTS = fileURLToPath(new URL('../browser/shots/', import.meta.url))

/** The wall screen of the bench, a large one, and a phone in the hand, CSS pixels. */
export const SIZES = {
  wall: { width: 1280, height: 800 },
  large: { width: 1920, height: 1080 },
  phone: { width: 390, height: 844 },
} as const
export type Size = keyof typeof SIZES

export async function openBrowser(flags: readonly string[] = []): Promise<Browser> {
  return chromium.launch({ ...(await findChromium()), args: [...FLAGS, ...flags] })
}

export type Site = { readonly url: string; readonly stop: () => Promise<void> }

/** A name of the server on its network: a page of it is not secure. */
export const NAMED = 'kiosk.test'

/** The built kiosk on a port of its own. */
export async function serveKiosk(): Promise<Site> {
  return serveFiles((await buildKiosk()).files)
}

/**
 * A page that holds one test script and nothing else, with the kiosk's Worker and fonts beside it.
 * @param script path of a TypeScript file under tests/browser
 */
export async function servePage(script: string): Promise<Site> {
  const { outputs } = await Bun.build({
    entrypoints: [fileURLToPath(new URL(`../browser/${script}`, import.meta.url))],
    target: 'browser',
    jsx: { runtime: 'automatic', importSource: 'preact', development: false },
  })
  const text = async (n: number) => new TextEncoder().encode(await outputs[n]?.text())
  const { files } = await buildKiosk()
  const ending = (end: string) =>
    [...files.keys()].find((path) => path.startsWith('/assets/') && path.endsWith(end))
  const html = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>test</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="${ending('.svg')}"><link rel="stylesheet" href="/screens.css"><link rel="stylesheet" href="${ending('.css')}"></head><body><div id="kiosk"></div>
<script type="module" src="/test.js"></script></body></html>`
  const page = { body: new TextEncoder().encode(html), type: 'text/html', immutable: false }
  const code = { body: await text(0), type: 'text/javascript', immutable: false }
  return serveFiles(new Map([...files, ['/', page], ['/test.js', code]]))
}

/** With the security headers of the real server: what they forbid must fail here too. */
function serveFiles(files: ReadonlyMap<string, KioskFile>): Site {
  const app = new Hono<Env>()
  app.use(guarded(guardOf(['127.0.0.1', NAMED])))
  app.get('*', (c) => {
    const file = files.get(c.req.path)
    if (file === undefined) return c.notFound()
    const keep = file.immutable ? 'public, max-age=31536000, immutable' : 'no-cache'
    return c.body(Uint8Array.from(file.body), 200, {
      'Content-Type': file.type,
      'Cache-Control': keep,
    })
  })
  const server = Bun.serve({ port: 0, hostname: '127.0.0.1', fetch: app.fetch })
  return { url: `http://127.0.0.1:${server.port}`, stop: () => server.stop(true) }
}

export type Opened = {
  readonly page: Page
  /** Closes the page and fails if it asked anybody else for anything, or complained. */
  readonly close: () => Promise<void>
}

/** What a browser writes of a server that is not there, and of a worker that it was fetching as that went away. */
const SERVER_OFF = 'Failed to load resource: net::ERR_CONNECTION_REFUSED'
const WORKER_OFF = /unknown error occurred when fetching the script/

/** What is waited for comes within a second; a machine may be busy with much else. */
const WAIT_MOST_MS = 60_000

/**
 * Opens a page in a context of its own: one kiosk.
 * @param path with its hash
 */
export async function openPage(
  browser: Pick<Browser, 'newContext'>,
  site: Pick<Site, 'url'>,
  { size = 'wall', path = '/', prepare, expected, ...options }: PageOptions = {},
): Promise<Opened> {
  const context = await browser.newContext({
    viewport: SIZES[size],
    // The packed browser has no one to ask, and refuses a wake lock that was not allowed before.
    permissions: ['screen-wake-lock'],
    ...options,
  })
  const page = await context.newPage()
  page.setDefaultTimeout(WAIT_MOST_MS)
  const complaints: string[] = []
  const refusals: Refused[] = []
  const answers: Promise<unknown>[] = []
  page.on('request', (request) => {
    const url = new URL(request.url())
    if (url.origin !== site.url && url.protocol.startsWith('http'))
      complaints.push(`asked ${url.origin} for ${url.pathname}`)
  })
  const isOff = (text: string) => WORKER_OFF.test(text) && expected?.test(SERVER_OFF) === true
  page.on('pageerror', ({ message }) => {
    if (!isOff(message)) complaints.push(message)
  })
  page.on('console', (said) => {
    if (said.type() !== 'error' || expected?.test(said.text()) || isOff(said.text())) return
    if (!said.text().includes(CONFLICT)) complaints.push(said.text())
  })
  page.on('response', (response) => {
    if (response.status() === 409 && !expected?.test(CONFLICT))
      answers.push(refusedBy(response).then((refused) => refusals.push(refused)))
  })
  await paced(page)
  await prepare?.(page)
  await page.goto(`${site.url}${path}`)
  const close = async () => {
    await Promise.all(answers)
    await context.close()
    for (const refused of refusals) if (!isLateReport(refused)) complaints.push(told(refused))
    if (complaints.length > 0) throw new Error(`The page complained:\n${complaints.join('\n')}`)
  }
  return { page, close }
}

/** What the browser writes of a refusal. It does not say of which; the answer itself does. */
const CONFLICT = 'Failed to load resource: the server responded with a status of 409 (Conflict)'

type Refused = { readonly asked: string; readonly said: string }

const refusedBy = async (response: Response): Promise<Refused> => ({
  asked: response.request().postData() ?? response.url(),
  // Not to be had any more once the page has gone elsewhere.
  said: await response.text().catch(String),
})

const told = ({ asked, said }: Refused): string => `409: ${asked}\nanswered: ${said}`

/** What a kiosk reports of a bell by itself. Nobody pressed it, so its refusal is not shown. */
const REPORTS = /"type":"(RingBell|EscalateBell|HoldBell)"/

/**
 * A bell may be over by the time its report arrives: the server then refuses it, the kiosk lets the
 * report go, and only the browser's console shows it. On a busy machine this may happen in any test.
 */
const isLateReport = ({ asked, said }: Refused): boolean =>
  REPORTS.test(asked) && said.includes('"bellNotDue"')

export type PageOptions = BrowserContextOptions & {
  readonly size?: Size
  readonly path?: string
  /** What is to be done before the page is loaded. */
  readonly prepare?: (page: Page) => Promise<void>
  /** What the browser will write to its console in this test: a refusal's status, a server away. */
  readonly expected?: RegExp
}

/** Saves what is on the screen to tests/browser/shots, for people to look at. */
export async function shot(page: Page, name: string): Promise<void> {
  mkdirSync(SHOTS, { recursive: true })
  await page.screenshot({ path: join(SHOTS, `${name}.png`) })
}

/** Evaluates without counting as a touch: Playwright's own evaluate would let a page start its sound. */
export async function evaluateUntouched(page: Page, expression: string): Promise<unknown> {
  const session = await page.context().newCDPSession(page)
  const { result } = await session.send('Runtime.evaluate', {
    expression,
    userGesture: false,
    returnByValue: true,
    awaitPromise: true,
  })
  await session.detach()
  return result.value
}

/** Asks again until the page says true, never touching it. */
export async function untilUntouched(page: Page, expression: string): Promise<void> {
  while ((await evaluateUntouched(page, expression)) !== true)
    await new Promise((again) => setTimeout(again, 50))
}

/**
 * Waits until a kiosk that nobody has touched has tried its loudspeaker in vain. A browser takes whatever else a
 * test asks the page for a touch, and lets it sound.
 */
export const untilSilent = (page: Page): Promise<void> =>
  untilUntouched(page, `document.querySelector('.lamp[data-sound=silent]') !== null`)
