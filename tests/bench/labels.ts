import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import bwipjs from 'bwip-js/node'
import { type LabelLayout, layoutCupLabel } from '../../labels/layout.ts'
import { labelBitmap, labelPng } from '../../labels/render.ts'
import { recordedPrinter } from '../support/ippAnswers.ts'
import { CLEAR, MADRID, paper } from '../support/labelSamples.ts'
import { BENCH } from '../support/printShop.ts'
import { CUP, JOB, vanInWork } from '../support/serverCommands.ts'
import { dataFolder, get, post, serverProcess } from '../support/serverProcess.ts'
import { CLEAR as CLEAR_SHEET } from '../support/sheets.ts'
import { median, quantile } from './figures.ts'
import { oursAtMost, part, ratioAtMost } from './table.ts'

/** How long a label takes: the first after a start, the next, and drawing one beside its code alone. */

const STARTS = 3
const LABELS = 60
const CUPS = 10
/** Nobody prints in the first second after a start. */
const AFTER_START_MS = 1_500
const ROUNDS = 7
const EACH = 20

const PRINTS = 40
const GROW = 1_000

const FIRST = 'first cup label after a start, 1-bit PNG'
const WARM = 'cup label, 1-bit PNG, p95'
const DRAWN = 'a cup label drawn as PNG / its code alone, by bwip-js'

const PRESS = 'PRINT to the last byte at the printer, cup label as PWG raster, p95'
const GROWN = 'memory kept after 1,000 more labels'

const PROMISED = {
  [FIRST]: oursAtMost(60),
  [WARM]: oursAtMost(25),
  [DRAWN]: ratioAtMost(4),
  [PRESS]: null,
  [GROWN]: oursAtMost(10),
}

export const labels = part('labels', PROMISED, async (put) => {
  const { folder, remove } = dataFolder()
  try {
    const times = { first: [] as number[], warm: [] as number[], bare: [] as number[] }
    for (let n = 0; n < STARTS; n += 1) await measureLabels(join(folder, `labels-${n}`), times)
    const health = { what: '/healthz', value: median(times.bare) }
    put(FIRST, { ours: median(times.first), unit: 'ms', limit: health })
    put(WARM, { ours: quantile(times.warm, 0.95), unit: 'ms', limit: health })
    put(DRAWN, await drawing())
    put(PRESS, await pressed())
    put(GROWN, grown())
  } finally {
    remove()
  }
})

/** In turn, each time another cup: neither finds what it drew before. */
async function drawing() {
  const all = { ours: [] as number[], code: [] as number[], ratio: [] as number[] }
  for (let round = -1; round < ROUNDS; round += 1) {
    const times = { ours: [] as number[], code: [] as number[] }
    for (let n = 0; n < EACH; n += 1) {
      const cup = `${20_000_000 + (round + 2) * EACH + n}`.replaceAll(/[01]/g, 'A')
      let layout: LabelLayout | undefined
      const ours = await timed(() => {
        layout = layoutCupLabel({ ...CLEAR, cup }, paper(203), MADRID)
        labelPng(layout)
      })
      times.ours.push(ours)
      const text = layout?.payload ?? ''
      const symbol = { bcid: 'qrcode', text, eclevel: 'M', scale: 4 }
      times.code.push(await timed(() => bwipjs.toBuffer(symbol)))
    }
    // The first round is for the compilers.
    if (round < 0) continue
    all.ours.push(...times.ours)
    all.code.push(...times.code)
    all.ratio.push(median(times.ours) / median(times.code))
  }
  const limit = { what: 'bwip-js', value: median(all.code) }
  return { ours: median(all.ours), unit: 'ms', limit, ratio: median(all.ratio) }
}

async function timed(work: () => unknown): Promise<number> {
  const begin = performance.now()
  await work()
  return performance.now() - begin
}

type Labels = { readonly first: number[]; readonly warm: number[]; readonly bare: number[] }

async function measureLabels(folder: string, labels: Labels): Promise<void> {
  mkdirSync(folder)
  const server = await serverProcess(folder, { FLASHBELL_PRACTICE_PORT: '0' })
  const cups = Array.from({ length: CUPS }, (_, n) => `CCCC333${'ABCDEFGHJK'[n]}`)
  const mixed = cups.map((cup, n) => ({
    ...{ id: `mix-${n}`, type: 'MixCup' },
    data: { cup, sheet: CLEAR_SHEET.sheet, totalMl: 450, job: JOB, activator: 'standard' },
  }))
  for (const command of [...vanInWork, ...mixed]) {
    const { status, body } = await post(`${server.url}/api/commands`, command)
    if (status !== 200) throw new Error(JSON.stringify(body))
  }
  const ask = async (path: string) => {
    const answer = await fetch(`${server.url}${path}`)
    await answer.arrayBuffer()
    if (!answer.ok) throw new Error(`${path} was answered ${answer.status}`)
  }
  await Bun.sleep(AFTER_START_MS)
  await get(`${server.url}/healthz`)
  labels.first.push(await timed(() => ask(`/api/labels/cup/${cups[0]}.png`)))
  for (let n = 0; n < LABELS; n += 1) {
    labels.warm.push(await timed(() => ask(`/api/labels/cup/${cups[1 + (n % (CUPS - 1))]}.png`)))
    labels.bare.push(await timed(() => ask('/healthz')))
  }
  await server.stop('SIGTERM')
}

/** A server in its own process, and a printer beside it that notes when the last byte of a label is there. */
async function pressed() {
  const { folder, remove } = dataFolder()
  const recorded = recordedPrinter()
  const took: (() => void)[] = []
  const printer = Bun.serve({
    port: 0,
    async fetch(request) {
      const body = new Uint8Array(await request.arrayBuffer())
      const before = recorded.taken.length
      const answer = await recorded.post('', body, 0, null)
      if (recorded.taken.length > before) took.shift()?.()
      return new Response(new Uint8Array(answer))
    },
  })
  const server = await serverProcess(folder, { FLASHBELL_PRACTICE_PORT: '0' })
  try {
    for (const command of vanInWork) await post(`${server.url}/api/commands`, command)
    const address = `ipp://localhost:${printer.port}/ipp/print`
    const settings = { printers: [{ ...BENCH, address }], auto: false, byKiosk: [] }
    await post(`${server.url}/api/printing/set`, settings)
    await Bun.sleep(AFTER_START_MS)
    const times: number[] = []
    for (let n = 0; n < PRINTS; n += 1) {
      const arrived = new Promise<void>((done) => took.push(done))
      const ask = { id: `print-${n}`, kind: 'cup', thing: CUP }
      times.push(
        await timed(async () => {
          const answer = await post(`${server.url}/api/print`, ask)
          if (answer.status !== 200) throw new Error(JSON.stringify(answer.body))
          await arrived
        }),
      )
      await isDone(server.url, ask.id)
    }
    return { ours: quantile(times, 0.95), unit: 'ms' }
  } finally {
    await server.stop('SIGTERM')
    await printer.stop(true)
    remove()
  }
}

/** The next one waits for its printer: it is not to be measured with the last. */
async function isDone(url: string, id: string): Promise<void> {
  for (;;) {
    const { body } = await get(`${url}/api/printing`)
    const { jobs } = body as { jobs: { id: string; step: string }[] }
    if (jobs.find((job) => job.id === id)?.step === 'done') return
    await Bun.sleep(20)
  }
}

/** After the first hundred every letter in every size is known: no label adds to what is kept. */
function grown() {
  const draw = (count: number, from: number) => {
    for (let n = 0; n < count; n += 1) {
      const cup = `${20_000_000 + from + n}`.replaceAll(/[01]/g, 'A')
      labelBitmap(layoutCupLabel({ ...CLEAR, cup }, paper(203), MADRID))
    }
    Bun.gc(true)
    return process.memoryUsage().heapUsed
  }
  const before = draw(100, 900_000)
  const after = draw(GROW, 910_000)
  return { ours: Math.max(0, (after - before) / 2 ** 20), unit: 'MiB' }
}
