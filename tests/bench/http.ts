import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { SERVER_ENGINE } from '../../server/engine.ts'
import { dataFolder, serverProcess } from '../support/serverProcess.ts'
import { type Client, connect } from './client.ts'
import { median } from './figures.ts'
import { cycles, SETUP } from './load.ts'
import { rawStore } from './rawCommits.ts'
import { oursAtMost, part, ratioAtLeast } from './table.ts'

/**
 * What a command costs by the whole path over HTTP. The servers run in processes of their own; the client
 * shares the processors with them, so these are lower bounds.
 */

const ROUNDS = 7
/** Rounds before anything counts: until then the engine still compiles. */
const WARM = 12
const EACH = 100
const CLIENTS = 16
const EACH_OF_MANY = 12
const RAW = 150

const ONE = 'one client, commands over HTTP / bare server with one durable row'
const CPU = 'processor time of a command with HTTP'
const MANY = 'sixteen clients, commands over HTTP / raw durable loop'
const GROUPED = 'sixteen clients, commands over HTTP / bare server that commits in groups'

const PROMISED = {
  [ONE]: ratioAtLeast(0.6, 0.85),
  [CPU]: oursAtMost(250),
  [MANY]: ratioAtLeast(0.8, 2.5),
  [GROUPED]: ratioAtLeast(0.9),
}

export const http = part('http', PROMISED, async (put) => {
  const { folder, remove } = dataFolder()
  const server = await serverProcess(folder, { FLASHBELL_PRACTICE_PORT: '0' })
  const [single, group] = [await bareServer(folder, 'single'), await bareServer(folder, 'group')]
  const raw = rawStore(folder)
  try {
    const setUp = await connect(server.url)
    for (const command of SETUP) await send(setUp, command)
    await atRest(server.pid)
    await oneClient()
    await manyClients()
    setUp.close()
  } finally {
    raw.close()
    single.stop()
    group.stop()
    await server.stop('SIGTERM')
    remove()
  }

  async function oneClient() {
    const [ours, bare] = [await connect(server.url), await connect(single.url)]
    const load = cycles(CLIENTS)
    const all = { ours: [] as number[], bare: [] as number[], ratio: [] as number[] }
    const cpuMs = { ours: 0, bare: 0 }
    for (let round = -WARM; round < ROUNDS; round += 1) {
      const times = { ours: [] as number[], bare: [] as number[] }
      const before = { ours: cpuMsOf(server.pid), bare: cpuMsOf(single.pid) }
      for (let n = 0; n < EACH; n += 1) {
        const command = load.next().value
        times.ours.push(await timed(() => send(ours, command)))
        times.bare.push(await timed(() => send(bare, command)))
      }
      if (round < 0) continue
      cpuMs.ours += cpuMsOf(server.pid) - before.ours
      cpuMs.bare += cpuMsOf(single.pid) - before.bare
      all.ours.push(...times.ours)
      all.bare.push(...times.bare)
      all.ratio.push(median(times.bare) / median(times.ours))
    }
    const limit = { what: 'bare server', value: median(all.bare) * 1_000 }
    put(ONE, { ours: median(all.ours) * 1_000, unit: 'us', limit, ratio: median(all.ratio) })
    const each = (ms: number) => (ms * 1_000) / (ROUNDS * EACH)
    const bareCpu = { what: 'bare server', value: each(cpuMs.bare) }
    put(CPU, { ours: each(cpuMs.ours), unit: 'us', limit: bareCpu })
    ours.close()
    bare.close()
  }

  async function manyClients() {
    const ours = await Promise.all(Array.from({ length: CLIENTS }, () => connect(server.url)))
    const bare = await Promise.all(Array.from({ length: CLIENTS }, () => connect(group.url)))
    const loads = ours.map((_, client) => cycles(client))
    const text = JSON.stringify({ command: cycles(0).next().value, rest: 'x'.repeat(330) })
    const perSecond = async (count: number, work: () => unknown) =>
      (count * 1_000) / (await timed(work))
    const block = (clients: readonly Client[], work: readonly (readonly object[])[]) =>
      perSecond(CLIENTS * EACH_OF_MANY, () =>
        Promise.all(
          clients.map(async (client, n) => {
            for (const command of work[n] ?? []) await send(client, command)
          }),
        ),
      )
    const rawBlock = () =>
      perSecond(RAW, () => {
        for (let n = 0; n < RAW; n += 1) raw.commit([text])
      })
    const all = { ours: [] as number[], raw: [] as number[], bare: [] as number[] }
    const ratios = { raw: [] as number[], bare: [] as number[] }
    for (let round = -2; round < ROUNDS; round += 1) {
      const work = loads.map((load) =>
        Array.from({ length: EACH_OF_MANY }, () => load.next().value),
      )
      const before = await rawBlock()
      const own = await block(ours, work)
      const after = await rawBlock()
      const grouped = await block(bare, work)
      if (round < 0) continue
      const looped = (before + after) / 2
      all.ours.push(own)
      all.raw.push(looped)
      all.bare.push(grouped)
      ratios.raw.push(own / looped)
      ratios.bare.push(own / grouped)
    }
    const rate = { ours: median(all.ours), unit: '/s' }
    const loop = { what: 'raw loop', value: median(all.raw) }
    put(MANY, { ...rate, limit: loop, ratio: median(ratios.raw) })
    const bareGroup = { what: 'bare groups', value: median(all.bare) }
    put(GROUPED, { ...rate, limit: bareGroup, ratio: median(ratios.bare) })
    for (const client of [...ours, ...bare]) client.close()
  }
})

/** Milliseconds of one piece of work. */
async function timed(work: () => unknown): Promise<number> {
  const start = performance.now()
  await work()
  return performance.now() - start
}

async function send(client: Client, command: object): Promise<void> {
  const { status, body } = await client.post('/api/commands', JSON.stringify(command))
  if (status !== 200) throw new Error(`${JSON.stringify(command)} was answered ${body}`)
}

async function bareServer(folder: string, mode: 'single' | 'group') {
  const file = fileURLToPath(new URL('./bareServer.ts', import.meta.url))
  const child = Bun.spawn([process.execPath, '--bun', file, folder, mode], {
    stdout: 'pipe',
    // Its engine is set as ours: what is compared is the work.
    env: { ...SERVER_ENGINE, ...process.env },
  })
  const reader = child.stdout.getReader()
  const { value } = await reader.read()
  return { url: new TextDecoder().decode(value).trim(), pid: child.pid, stop: () => child.kill() }
}

/** A server that has just started still makes its labels ready: that is no part of a command. */
async function atRest(pid: number): Promise<void> {
  for (let tries = 0; tries < 60; tries += 1) {
    const before = cpuMsOf(pid)
    await Bun.sleep(500)
    if (cpuMsOf(pid) - before <= 20) return
  }
}

/** Processor time of another process so far, in its own code and in the system's: hundredths of a second. */
function cpuMsOf(pid: number): number {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
  const [user, system] = stat
    .slice(stat.lastIndexOf(')') + 2)
    .split(' ')
    .slice(11, 13)
  return (Number(user) + Number(system)) * 10
}
