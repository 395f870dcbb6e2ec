import { CUP, panelId } from '../browser/busyShop.ts'
import { openJobs } from './busy.ts'
import { openChromium, type Tab } from './devtools.ts'
import { median, note, say, title } from './figures.ts'
import { type Heap, weigh } from './heap.ts'
import { oursAtMost, type Put, part, ratioAtMost } from './table.ts'

/**
 * A Wall of forty lanes, their clocks running, for some minutes at the real second: does it grow, does
 * a second cost more at the end than at the start? Rubbish is collected before the heap is read.
 */

const LANES = 40
/** A kiosk of 2016 has about a quarter of the speed. */
const SLOW = 4
const WARM_UP_MS = 20_000
const SAMPLES = 10
/** Long enough that no bell rings and no clock ends during the measurement, min. */
const LONG = 1_200
const at20 = (minutes: number) => [{ atC: 20, minutes }]
const SHEET = {
  potLife: at20(2 * LONG),
  flashBetween: at20(LONG),
  flashBeforeNext: at20(LONG),
  recoatWithin: at20(4 * LONG),
}
const KIB = 1_024

type Sample = {
  readonly heapKiB: number
  readonly nodes: number
  readonly listeners: number
  /** Of the page's processor time since it was opened, s: in scripts, in all its tasks, in style and layout. */
  readonly scriptS: number
  readonly taskS: number
  readonly shapeS: number
  readonly atMs: number
}

const PROMISED = {
  'scripts of forty lanes, each second': null,
  'scripts of forty lanes, each second, at a quarter of the speed': oursAtMost(1),
  'all tasks of forty lanes, each second': null,
  'all tasks, second half of the time': ratioAtMost(1.2),
  'the page’s own data at the end': ratioAtMost(1.05),
  'style and layout of forty lanes, each second': null,
  'changes of digits, for each lane in sight and second': oursAtMost(1.1),
} as const
type What = keyof typeof PROMISED

export const lanes = part<What>('lanes', PROMISED, async (put, { minutes }) => {
  title(`${LANES} lanes, their clocks running, for ${minutes} min`)
  const site = await openJobs(LANES, SHEET)
  for (let n = 0; n < LANES; n += 1) {
    await site.send('FinishCoat', { panels: [panelId(n)], cup: CUP })
    site.clock.move(700)
  }
  const browser = await openChromium()
  const wall = await browser.tab({ context: await browser.context(), ownWindow: true })
  await wall.open(site.url)
  await wall.until(`document.querySelectorAll('.lane').length === ${LANES}`)
  // Processor time of the main thread: what else the machine does is not in it.
  await wall.ask('Performance.enable', { timeDomain: 'threadTicks' })
  await Bun.sleep(WARM_UP_MS)
  const before = await weigh(wall)
  const samples = [await take(wall)]
  for (let n = 0; n < SAMPLES; n += 1) {
    await Bun.sleep((minutes * 60_000) / SAMPLES)
    samples.push(await take(wall))
  }
  print(samples, put)
  printHeap(before, await weigh(wall), put)
  await printRate(wall, put)
  await browser.close()
  await site.stop()
})

async function take(wall: Tab): Promise<Sample> {
  // Twice: what the first collection frees may free more.
  for (let n = 0; n < 2; n += 1) await wall.ask('HeapProfiler.collectGarbage')
  const { nodes, jsEventListeners } = await wall.ask<{ nodes: number; jsEventListeners: number }>(
    'Memory.getDOMCounters',
  )
  return {
    heapKiB: (await wall.metric('JSHeapUsedSize')) / KIB,
    nodes,
    listeners: jsEventListeners,
    scriptS: await wall.metric('ScriptDuration'),
    taskS: await wall.metric('TaskDuration'),
    shapeS: (await wall.metric('RecalcStyleDuration')) + (await wall.metric('LayoutDuration')),
    atMs: Date.now(),
  }
}

function print(samples: readonly Sample[], put: Put<What>): void {
  const first = samples[0] as Sample
  const middle = samples[Math.floor(samples.length / 2)] as Sample
  const last = samples.at(-1) as Sample
  const series = (of: (s: Sample) => number) => samples.map((s) => of(s).toFixed(0)).join(' ')
  const growth = (what: string, of: (s: Sample) => number, unit: string, target = '(target 1)') => {
    say(`${what} at the end / at the start`, of(last) / of(first), 'x', target)
    note(`${unit}: ${series(of)}`)
  }
  growth('heap with compiled code', (s) => s.heapKiB, 'KiB', '(jumps while it compiles)')
  say('heap of the second half, growth', slope(middle, last), 'KiB/min')
  growth('nodes', (s) => s.nodes, 'nodes')
  growth('listeners', (s) => s.listeners, 'listeners')
  for (const [what, of] of [
    ['scripts', (s: Sample) => s.scriptS],
    ['all tasks', (s: Sample) => s.taskS],
    ['style and layout', (s: Sample) => s.shapeS],
  ] as const) {
    const each = samples.slice(1).map((s, n) => costMs(samples[n] as Sample, s, of))
    put(`${what} of forty lanes, each second`, { ours: median(each), unit: 'ms' })
    // Processor time as it is: what a slowed browser waits between two turns is none.
    if (what === 'scripts')
      put('scripts of forty lanes, each second, at a quarter of the speed', {
        ours: SLOW * median(each),
        unit: 'ms',
      })
  }
  const tasks = (s: Sample) => s.taskS
  const limit = { what: 'first half', value: costMs(first, middle, tasks) }
  put('all tasks, second half of the time', {
    ours: costMs(middle, last, tasks),
    unit: 'ms/s',
    limit,
  })
}

function printHeap(before: Heap, after: Heap, put: Put<What>): void {
  const limit = { what: 'at the start', value: before.dataKiB }
  put('the page’s own data at the end', { ours: after.dataKiB, unit: 'KiB', limit })
  const grown = (of: keyof Heap) => (after[of] - before[of]).toFixed(1)
  note(`KiB grown: data ${grown('dataKiB')} of ${before.dataKiB.toFixed(0)},`)
  note(`compiled code ${grown('codeKiB')}, the browser's own ${grown('browserKiB')}`)
}

const slope = (from: Sample, to: Sample) =>
  (to.heapKiB - from.heapKiB) / ((to.atMs - from.atMs) / 60_000)

/** ms for each second that passed. */
const costMs = (from: Sample, to: Sample, of: (s: Sample) => number) =>
  (1e6 * (of(to) - of(from))) / (to.atMs - from.atMs)

/** That the clocks did run. */
async function printRate(wall: Tab, put: Put<What>): Promise<void> {
  const seconds = 5
  const { changes, lanes } = await wall.evaluate<{
    changes: number
    lanes: number
  }>(`new Promise((done) => {
    let changes = 0
    const seen = new Set()
    const watch = new MutationObserver((all) => {
      changes += all.length
      for (const { target } of all) seen.add(target)
    })
    for (const digits of document.querySelectorAll('.lane .digits'))
      watch.observe(digits, { characterData: true, childList: true, subtree: true })
    setTimeout(() => { watch.disconnect(); done({ changes, lanes: seen.size }) }, ${seconds * 1000})
  })`)
  note(
    `${lanes} of ${LANES} lanes in sight: the others are written when they come into it, and in slow steps`,
  )
  const ours = changes / lanes / seconds
  put('changes of digits, for each lane in sight and second', { ours, unit: '' })
}
