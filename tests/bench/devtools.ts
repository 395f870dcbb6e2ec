import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { findChromium } from '../support/browserBinary.ts'

/**
 * A Chromium driven by the bare DevTools protocol. Libraries for browser tests switch off what hidden
 * tabs are held back by, and pretend to every page that it is in front: nothing here does.
 */

const FLAGS = [
  '--headless=new',
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--no-default-browser-check',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--autoplay-policy=no-user-gesture-required',
  '--window-size=1280,900',
  '--remote-debugging-port=0',
]
const START_MS = 30_000
const ASK_MS = 60_000
const LOOK_MS = 50

type Answer = { id?: number; result?: object; error?: { message: string } }
/** What the browser says by itself. */
type Event = { readonly method?: string; readonly params?: object; readonly sessionId?: string }
type Hear = (event: Event) => void
type Asked = { done: (result: object) => void; fail: (why: Error) => void }

export type Chromium = {
  /** Opens a tab of a window; without a context it is the browser's first. */
  readonly tab: (options?: TabOptions) => Promise<Tab>
  /** A kiosk of its own: storage that no other shares. */
  readonly context: () => Promise<string>
  readonly close: () => Promise<void>
}

export type TabOptions = {
  readonly context?: string
  /** In a window of its own, so that it is in front. */
  readonly ownWindow?: boolean
  /** Runs in the page before its own scripts. */
  readonly before?: string
}

export type Tab = {
  readonly ask: <R extends object>(method: string, params?: object) => Promise<R>
  /** Asks, and gives what the events of a name have said by the time of the answer. */
  readonly collect: <E extends object>(
    event: string,
    method: string,
    params?: object,
  ) => Promise<E[]>
  /** What an expression gives, awaited. Throws what the page throws. Counts as no touch. */
  readonly evaluate: <R>(expression: string) => Promise<R>
  /** Waits until an expression is true. */
  readonly until: (expression: string, withinMs?: number) => Promise<void>
  readonly open: (url: string) => Promise<void>
  /** One of the browser's own figures of the page; Performance.enable comes before. */
  readonly metric: (name: string) => Promise<number>
  /** Presses and lets go in the middle of an element, as a finger does. */
  readonly press: (selector: string) => Promise<void>
  readonly show: () => Promise<void>
  readonly close: () => Promise<void>
}

/** @param flags beside the usual ones */
export async function openChromium(flags: readonly string[] = []): Promise<Chromium> {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-chromium-'))
  const { executablePath, env } = await findChromium()
  const run = Bun.spawn(
    [executablePath, ...FLAGS, ...flags, `--user-data-dir=${folder}`, 'about:blank'],
    { env, stdout: 'ignore', stderr: 'pipe' },
  )
  const hearing = new Set<Hear>()
  const line = await connect(await addressOf(run.stderr), hearing)
  return {
    tab: (options) => openTab(line, hearing, options),
    context: async () => {
      const made = await line<{ browserContextId: string }>('Target.createBrowserContext')
      return made.browserContextId
    },
    close: async () => {
      await line('Browser.close').catch(() => run.kill())
      await run.exited
      rmSync(folder, { recursive: true, force: true, maxRetries: 5 })
    },
  }
}

/** Chromium writes to its error output where it listens. */
async function addressOf(stderr: ReadableStream<Uint8Array>): Promise<string> {
  const text = new TextDecoder()
  let said = ''
  const reader = stderr.getReader()
  const late = setTimeout(() => void reader.cancel(), START_MS)
  for (;;) {
    const { value, done } = await reader.read()
    said += text.decode(value, { stream: true })
    const found = /DevTools listening on (ws:\S+)/.exec(said)?.[1]
    if (found) {
      clearTimeout(late)
      void drain(reader)
      return found
    }
    if (done) throw new Error(`Chromium did not say where it listens:\n${said}`)
  }
}

/** A pipe that nobody reads would fill up and stop the browser. */
async function drain(reader: { read: () => Promise<{ done: boolean }> }): Promise<void> {
  while (!(await reader.read()).done);
}

type Line = <R extends object>(method: string, params?: object, session?: string) => Promise<R>

async function connect(address: string, hearing: ReadonlySet<Hear>): Promise<Line> {
  const socket = new WebSocket(address)
  const asked = new Map<number, Asked>()
  let last = 0
  await new Promise<void>((open, fail) => {
    socket.addEventListener('open', () => open())
    socket.addEventListener('error', () => fail(new Error(`No answer at ${address}`)))
  })
  socket.addEventListener('message', ({ data }) => {
    const said = JSON.parse(String(data)) as Answer & Event
    for (const hear of hearing) hear(said)
    const { id, result, error } = said
    const waiting = id === undefined ? undefined : asked.get(id)
    if (id === undefined || waiting === undefined) return
    asked.delete(id)
    if (error) waiting.fail(new Error(error.message))
    else waiting.done(result ?? {})
  })
  socket.addEventListener('close', () => {
    for (const { fail } of asked.values()) fail(new Error('The browser went away.'))
  })
  return <R extends object>(method: string, params: object = {}, session?: string) =>
    new Promise<R>((done, fail) => {
      last += 1
      const late = setTimeout(() => fail(new Error(`${method} was not answered.`)), ASK_MS)
      const heard = (act: () => void) => {
        clearTimeout(late)
        act()
      }
      asked.set(last, {
        done: (result) => heard(() => done(result as R)),
        fail: (why) => heard(() => fail(why)),
      })
      const to = session === undefined ? {} : { sessionId: session }
      socket.send(JSON.stringify({ id: last, method, params, ...to }))
    })
}

async function openTab(line: Line, hearing: Set<Hear>, options: TabOptions = {}): Promise<Tab> {
  const { context, ownWindow = false, before } = options
  const { targetId } = await line<{ targetId: string }>('Target.createTarget', {
    url: 'about:blank',
    newWindow: ownWindow,
    ...(context === undefined ? {} : { browserContextId: context }),
  })
  const { sessionId } = await line<{ sessionId: string }>('Target.attachToTarget', {
    targetId,
    flatten: true,
  })
  const ask: Tab['ask'] = (method, params) => line(method, params, sessionId)
  await ask('Page.enable')
  if (before) await ask('Page.addScriptToEvaluateOnNewDocument', { source: before })
  const evaluate = evaluator(ask)
  const until = waiter(evaluate)
  return {
    ask,
    collect: async <E extends object>(event: string, method: string, params?: object) => {
      const all: E[] = []
      const hear: Hear = (said) => {
        if (said.method === event && said.sessionId === sessionId) all.push(said.params as E)
      }
      hearing.add(hear)
      await ask(method, params).finally(() => hearing.delete(hear))
      return all
    },
    evaluate,
    until,
    open: async (url) => {
      await ask('Page.navigate', { url })
    },
    metric: async (name) => {
      const { metrics } = await ask<Metrics>('Performance.getMetrics')
      return metrics.find((m) => m.name === name)?.value ?? Number.NaN
    },
    press: async (selector) => {
      await until(`document.querySelector(${JSON.stringify(selector)}) !== null`)
      const at = await evaluate<{ x: number; y: number }>(middleOf(selector))
      for (const type of ['mousePressed', 'mouseReleased'])
        await ask('Input.dispatchMouseEvent', { type, ...at, button: 'left', clickCount: 1 })
    },
    show: async () => {
      await line('Target.activateTarget', { targetId })
    },
    close: async () => {
      await line('Target.closeTarget', { targetId })
    },
  }
}

type Metrics = { metrics: { name: string; value: number }[] }
type Evaluated = { result: { value?: unknown }; exceptionDetails?: { exception?: object } }

const evaluator =
  (ask: Tab['ask']): Tab['evaluate'] =>
  async <R>(expression: string) => {
    const { result, exceptionDetails } = await ask<Evaluated>('Runtime.evaluate', {
      expression,
      userGesture: false,
      returnByValue: true,
      awaitPromise: true,
    })
    if (exceptionDetails) throw new Error(JSON.stringify(exceptionDetails).slice(0, 600))
    return result.value as R
  }

const waiter =
  (evaluate: Tab['evaluate']): Tab['until'] =>
  async (expression, withinMs = ASK_MS) => {
    const endMs = Date.now() + withinMs
    while ((await evaluate(expression)) !== true) {
      if (Date.now() > endMs) throw new Error(`This did not come true: ${expression}`)
      await Bun.sleep(LOOK_MS)
    }
  }

const middleOf = (selector: string): string => `(() => {
  const element = document.querySelector(${JSON.stringify(selector)})
  element.scrollIntoView({ block: 'nearest' })
  const { x, y, width, height } = element.getBoundingClientRect()
  return { x: x + width / 2, y: y + height / 2 }
})()`
