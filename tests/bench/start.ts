import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import {
  dataFolder,
  get,
  KIOSK_CACHE,
  MAIN,
  post,
  serverProcess,
} from '../support/serverProcess.ts'
import { median, quantile } from './figures.ts'
import { cycles, SETUP } from './load.ts'
import { oursAtMost, part, ratioAtMost } from './table.ts'

/** From the start of the process to its first answer, and how long a label takes, the first and the next. */

const ROUNDS = 7
const STARTS = 3
const LABELS = 60
/** Commands of the load that make one cup each. */
const A_CUP = 14
const CUPS = 10

const START = 'start to first answer, second start / empty Bun server'
const FIRST = 'first cup label after a start, 1-bit PNG'
const WARM = 'cup label, 1-bit PNG, p95'

const PROMISED = {
  [START]: ratioAtMost(10),
  [FIRST]: oursAtMost(60),
  [WARM]: oursAtMost(25),
}

export const start = part('start', PROMISED, async (put) => {
  const { folder, remove } = dataFolder()
  try {
    const empty = join(folder, 'empty.ts')
    writeFileSync(
      empty,
      "Bun.serve({ hostname: '127.0.0.1', port: Number(process.argv[2]), fetch: () => new Response('') })",
    )
    const data = join(folder, 'data')
    mkdirSync(data)
    const serve = (port: number) => [MAIN, 'serve', '--port', `${port}`, '--data', data]
    const all = { ours: [] as number[], empty: [] as number[] }
    for (let round = -1; round < ROUNDS; round += 1) {
      const port = freePort()
      const bare = await toAnswer([empty, `${port}`], `http://127.0.0.1:${port}/`)
      const own = freePort()
      const ours = await toAnswer(serve(own), `http://127.0.0.1:${own}/healthz`)
      // The first builds the kiosk and sets the shop up.
      if (round < 0) continue
      all.empty.push(bare)
      all.ours.push(ours)
    }
    const ratio = median(all.ours.map((ms, n) => ms / (all.empty[n] ?? Number.NaN)))
    const limit = { what: 'empty server', value: median(all.empty) }
    put(START, { ours: median(all.ours), unit: 'ms', limit, ratio })
    const labels = { first: [] as number[], warm: [] as number[], bare: [] as number[] }
    for (let n = 0; n < STARTS; n += 1) await measureLabels(join(folder, `labels-${n}`), labels)
    const health = { what: '/healthz', value: median(labels.bare) }
    put(FIRST, { ours: median(labels.first), unit: 'ms', limit: health })
    put(WARM, { ours: quantile(labels.warm, 0.95), unit: 'ms', limit: health })
  } finally {
    remove()
  }
})

/** A port that is free just now. */
function freePort(): number {
  const server = Bun.serve({ hostname: '127.0.0.1', port: 0, fetch: () => new Response('') })
  const { port } = server
  server.stop(true)
  if (port === undefined) throw new Error('The system gave no port.')
  return port
}

async function toAnswer(args: readonly string[], url: string): Promise<number> {
  const begin = performance.now()
  const child = Bun.spawn([process.execPath, '--bun', ...args], {
    ...{ stdin: 'pipe', stdout: 'ignore', stderr: 'ignore' },
    env: { ...process.env, FLASHBELL_CACHE: KIOSK_CACHE, FLASHBELL_PRACTICE_PORT: '0' },
  })
  for (;;) {
    if (child.exitCode !== null) throw new Error(`${args.join(' ')} ended with ${child.exitCode}`)
    const answer = await fetch(url, { headers: { Connection: 'close' } }).catch(() => null)
    if (answer === null) {
      await Bun.sleep(1)
      continue
    }
    await answer.arrayBuffer()
    break
  }
  const ms = performance.now() - begin
  child.kill('SIGTERM')
  await child.exited
  return ms
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
  const timed = async (path: string) => {
    const begin = performance.now()
    const answer = await fetch(`${server.url}${path}`)
    await answer.arrayBuffer()
    if (!answer.ok) throw new Error(`${path} was answered ${answer.status}`)
    return performance.now() - begin
  }
  await get(`${server.url}/healthz`)
  labels.first.push(await timed(`/api/labels/cup/${cups[0]}.png`))
  for (let n = 0; n < LABELS; n += 1) {
    labels.warm.push(await timed(`/api/labels/cup/${cups[1 + (n % (CUPS - 1))]}.png`))
    labels.bare.push(await timed('/healthz'))
  }
  await server.stop('SIGTERM')
}
