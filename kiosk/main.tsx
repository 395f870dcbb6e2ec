import { computed, effect, signal } from '@preact/signals'
import { render } from 'preact'
import type { ClockSpan } from '../machines/contract.ts'
import { settingsOf } from '../machines/shop/settings.ts'
import { soundsAt } from './bells/cards.ts'
import { openBells, withoutWaiting } from './bells/openBells.ts'
import { commandOf } from './bells/reporter.ts'
import { workerTicks } from './bells/ticker.ts'
import { fetchedEvict } from './commands/copy.ts'
import { type Fetch, shopLink } from './commands/link.ts'
import { logMemory } from './commands/logMemory.ts'
import { outbox } from './commands/outbox.ts'
import { memoryOutboxDb, openOutboxDb, pagesOf } from './commands/outboxDb.ts'
import { noting, startedHere } from './commands/presses.ts'
import { OutboxProvider, ServerProvider, ShopProvider } from './commands/shop.ts'
import { HandsProvider, handsfree } from './device/handsfree.ts'
import { listenForPedal, pedalSettings } from './device/pedal.ts'
import { practiceOn, sampleFrom } from './device/practiceShop.ts'
import { sayPresence } from './device/presence.ts'
import { installed, renew } from './device/renew.ts'
import { startKiosk } from './device/runtime.ts'
import { listenForScans, scannerPace } from './device/scanner.ts'
import { POSITION, settings } from './device/settings.ts'
import { keepAwake } from './device/wakeLock.ts'
import { takesReading } from './device/weight.ts'
import { Shell } from './frame/shell.tsx'
import { fetchSoon, SCREENS } from './screens.ts'
import { again, whenWanted } from './ui/again.ts'
import { hashOf, routeOf } from './ui/route.ts'
import { formatOf } from './units/format.ts'
import { fetchAllWords, fetchWords, wordsIn } from './words/words.ts'

/** The page's composition root: the only place that makes real clocks, sound and timers. */

const WORTH_KEEPING_MS = 500
/** How long the first drawing waits for the shop's state and its letters, and for words that are fetched. */
const FIRST_STATE_MS = 250
const WORDS_MS = 1_000
const LANGUAGE = 'language'
const wait = (ms: number) => new Promise<void>((done) => setTimeout(done, ms))
/** A page that is loaded out of sight draws no frame, and still has to ring. */
const DRAWN_WITHIN_MS = 2_000
const IDLE_WITHIN_MS = 500
let hasDrawn = () => {}
/** The first screen stands: what it does not need may be fetched and begun. */
const drawn = new Promise<void>((done) => {
  hasDrawn = done
})
/** Bells and storage have begun, and the device has a moment: what no screen waits for. */
const atEase = drawn.then(() => new Promise<void>((done) => whenIdle(done)))
const own = settings(localStorage, document.documentElement)
const kiosk = startKiosk({
  sample: sampleFrom(document, () => ({
    monotonicMs: performance.now(),
    deviceMs: Date.now(),
  })),
  rememberedOffsetMs: own.clockOffsetMs(),
  wait,
  ticks: (look) => {
    const ticking = drawn.then(() => workerTicks('/bells/tickWorker.js')(look))
    return {
      stop: () => void ticking.then(({ stop }) => stop()),
      soon: () => void ticking.then(({ soon }) => soon()),
    }
  },
  audio: () => new AudioContext(),
  soundsHere: (reach, card) => soundsAt(own.kept(POSITION) ?? '', reach, card),
  tell: (said) => {
    const [type, data, extra] = commandOf(said)
    void send(type, data, extra)
  },
})

// What a page needs to know of the time when it is loaded while the server is away.
let keptOffsetMs = own.clockOffsetMs()
effect(() => {
  const { sync, deviceOffsetMs } = kiosk.known.value
  const isOff = Math.abs(deviceOffsetMs - keptOffsetMs) > WORTH_KEEPING_MS
  if (sync !== 'synchronised' || !isOff) return
  keptOffsetMs = deviceOffsetMs
  own.setClockOffsetMs(deviceOffsetMs)
})
// Any touch turns the sound on: a browser allows that only within a touch.
for (const gesture of ['pointerup', 'keydown'])
  addEventListener(gesture, () => {
    if (!kiosk.speaker.soundReady.value) void kiosk.speaker.wake()
  })
// Capture: the touch sound comes before what the touch starts, which may be a bell.
addEventListener(
  'click',
  ({ target }) => {
    if (target instanceof Element && target.closest('button, a')) kiosk.speaker.touch('ok')
  },
  { capture: true },
)

const askServer: Fetch = (path, init) => fetch(path, init)
// In a browser that stores nothing, commands are kept as long as the page is open.
const db = drawn.then(openOutboxDb).catch(memoryOutboxDb)
// No first screen needs it: it is fetched when the server does not answer, or the shop is to be kept.
const keptShop = whenWanted(async () => {
  const { openShopDb, memoryShop } = await again(() => import('./commands/keptShop.ts'))
  return await openShopDb().catch(memoryShop)
})
const memory = logMemory({
  book: whenWanted(async () => {
    await drawn
    const { openBook } = await again(() => import('./commands/logBook.ts'))
    return await openBook(askServer)
  }),
  wait,
})
// A practice shop begins again at every start: what it had before is not missed.
const remembers = practiceOn(document) === null
/** A page that is hidden may be ended without a word. */
function leaving(write: () => void): () => void {
  const hidden = () => {
    if (document.visibilityState === 'hidden') write()
  }
  addEventListener('pagehide', write)
  document.addEventListener('visibilitychange', hidden)
  return () => {
    removeEventListener('pagehide', write)
    document.removeEventListener('visibilitychange', hidden)
  }
}
const clocks = signal<ClockSpan | null>(null)
const link = shopLink({
  fetch: askServer,
  openTail: (after) => new EventSource(`/api/tail?after=${encodeURIComponent(after)}`),
  wait,
  heard: kiosk.hear,
  loaded: (answer) => {
    clocks.value = answer.clockSpan ?? null
    if (remembers) memory.loaded(answer)
  },
  seen: (entry) => {
    if (remembers) memory.seen(entry)
  },
  now: () => {
    const { nowMs, sync } = kiosk.clock.read()
    return sync === 'notSynchronised' ? null : nowMs
  },
  evict: fetchedEvict(() => atEase.then(() => again(() => import('../machines/evict.ts')))),
  random: Math.random,
  build: document.querySelector<HTMLMetaElement>('meta[name=build]')?.content ?? '',
  kept: async () => (await keptShop()).kept(),
  keep: async (state) => {
    await drawn
    await (await keptShop()).keep(state)
  },
  leaving,
})
const out = outbox({
  db,
  fetch: askServer,
  time: () => kiosk.clock.read(),
  confirmed: link.state,
  taken: link.take,
  link: link.is,
  wait,
  rules: () => drawn.then(() => again(() => import('./commands/provisional.ts'))),
  ...pagesOf(window),
  notTaken: () => kiosk.speaker.touch('error'),
})
const send = noting(out.send)
void drawn.then(() =>
  effect(() => {
    const state = out.state.value
    // What this device knew may be over by now: the server says it in a moment, or is away.
    if (state && !link.isAsking.value)
      kiosk.open.value = withoutWaiting(openBells(state), state, startedHere.value)
  }),
)
effect(() => {
  // The server has another build: this page would fold its entries by old rules.
  if (link.is.value === 'old')
    void renew({ flush: out.flush, wait, page: window, now: () => Date.now() })
})
sayPresence({
  fetch: askServer,
  device: db.then(({ device }) => device),
  isHeard: kiosk.speaker.soundReady,
  zone: () => own.kept(POSITION) || null,
  link: link.is,
  every: (ms, run) => void setInterval(run, ms),
})
const shopSettings = computed(() => (link.state.value ? settingsOf(link.state.value) : {}))
// Until the shop is here, the language that it had when this page was last open.
const language = computed(() =>
  link.state.value ? shopSettings.value.language : (own.kept(LANGUAGE) ?? undefined),
)
effect(() => {
  if (link.state.value) own.keep(LANGUAGE, language.value ?? null)
})
const shop = {
  state: out.state,
  link: link.is,
  words: computed(() => wordsIn(language.value)),
  format: computed(() => formatOf(shopSettings.value, clocks.value)),
  send,
}
const go = (screen: string, ...rest: readonly string[]) => {
  location.hash = hashOf(screen, ...rest)
}
const hands = handsfree({
  state: out.state,
  words: shop.words,
  kiosk,
  send,
  show: (text) => go('scan', text),
  home: () => go('wall'),
  wait,
})
const pedal = pedalSettings(localStorage)
// What is said of a scan or a pedal is in words that no first Wall has.
const wordsHere = () => fetchAllWords(language.value)
listenForPedal(window, pedal.is, (panel) => void wordsHere().then(() => hands.pedal(panel)))
const awake = keepAwake(
  window,
  computed(() => kiosk.open.value.bells.length > 0),
  {
    now: () => kiosk.clock.read().nowMs,
    slept: ({ why, atMs }) =>
      void send('ReportSleep', { why }, { at: atMs, enteredAt: atMs, source: 'kiosk' }),
  },
)
listenForScans(
  window,
  ({ text }) => {
    if (!takesReading(document.activeElement, text)) void wordsHere().then(() => hands.scan(text))
  },
  scannerPace(own),
)

void atEase.then(() => installed(window))
void atEase.then(() => fetchSoon(() => wait(0)))
void atEase.then(wordsHere)

const root = document.getElementById('kiosk')
if (root === null) throw new Error('The page has no element #kiosk to draw in.')
// One drawing, with what the server says, in its own letters and in the shop's language, rather than two: letters that
// come later have other widths, and move what stands.
await Promise.race([Promise.allSettled([stateIsHere(), ...firstFonts()]), wait(FIRST_STATE_MS)])
await Promise.race([fetchWords(language.value), wait(WORDS_MS)])
render(
  <ShopProvider value={shop}>
    <OutboxProvider value={out}>
      <HandsProvider value={{ hands, pedal, awake }}>
        <ServerProvider value={{ said: link.server, tail: link, memory, dismissLoss }}>
          <Shell kiosk={kiosk} settings={own} route={routeOf(window)} screens={SCREENS} />
        </ServerProvider>
      </HandsProvider>
    </OutboxProvider>
  </ShopProvider>,
  root,
)
// The second frame begins when the first is on its way to the glass.
requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(hasDrawn)))
setTimeout(hasDrawn, DRAWN_WITHIN_MS)

/** The letters of a first screen: until they are there its text is not shown. */
function firstFonts(): Promise<unknown>[] {
  return [...document.fonts].flatMap((font) => (font.display === 'block' ? font.load() : []))
}

function whenIdle(run: () => void): void {
  // Safari does not say when it is idle.
  if ('requestIdleCallback' in window) requestIdleCallback(run, { timeout: IDLE_WITHIN_MS })
  else setTimeout(run, IDLE_WITHIN_MS)
}

/** Everybody's kiosk stops saying so with the next beat. */
async function dismissLoss(knownHash: string): Promise<void> {
  const body = JSON.stringify({ knownHash })
  const headers = { 'content-type': 'application/json' }
  await askServer('/api/log/dismiss', { method: 'POST', headers, body }).catch(() => null)
}

function stateIsHere(): Promise<void> {
  return new Promise((done) => {
    const stop = effect(() => {
      if (link.state.value === null) return
      done()
      queueMicrotask(() => stop())
    })
  })
}
