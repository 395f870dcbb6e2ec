import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import bwipjs from 'bwip-js/node'
import { type LabelLayout, layoutCupLabel } from '../../labels/layout.ts'
import { labelPng } from '../../labels/render.ts'
import { CLEAR, MADRID, paper } from '../support/labelSamples.ts'
import { dataFolder, get, post, serverProcess } from '../support/serverProcess.ts'
import { median, quantile } from './figures.ts'
import { cycles, SETUP } from './load.ts'
import { oursAtMost, part, ratioAtMost } from './table.ts'

/** How long a label takes: the first after a start, the next, and drawing one beside its code alone. */

const STARTS = 3
const LABELS = 60
/** Commands of the load that make one cup each. */
const A_CUP = 14
const CUPS = 10
/** Nobody prints in the first second after a start. */
const AFTER_START_MS = 1_500
const ROUNDS = 7
const EACH = 20

const FIRST = 'first cup label after a start, 1-bit PNG'
const WARM = 'cup label, 1-bit PNG, p95'
const DRAWN = 'a cup label drawn as PNG / its code alone, by bwip-js'

const PROMISED = {
  [FIRST]: oursAtMost(60),
  [WARM]: oursAtMost(25),
  [DRAWN]: ratioAtMost(4),
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
  const cups: string[] = []
  const load = cycles(0)
  const work = Array.from({ length: A_CUP * CUPS }, () => load.next().value)
  for (const command of [...SETUP, ...work]) {
    const { status, body } = await post(`${server.url}/api/commands`, command)
    if (status !== 200) throw new Error(JSON.stringify(body))
    if (command.type === 'MixCup' && 'cup' in command.data) cups.push(`${command.data.cup}`)
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
