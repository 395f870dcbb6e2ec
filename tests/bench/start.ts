import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { SERVER_ENGINE } from '../../server/engine.ts'
import { dataFolder, KIOSK_CACHE, MAIN } from '../support/serverProcess.ts'
import { median } from './figures.ts'
import { part, ratioAtMost } from './table.ts'

/** From the start of the process to its first answer. */

const ROUNDS = 7

const START = 'start to first answer, second start / empty Bun server'

const PROMISED = {
  [START]: ratioAtMost(10),
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
    env: {
      ...SERVER_ENGINE,
      ...process.env,
      ...{ FLASHBELL_CACHE: KIOSK_CACHE, FLASHBELL_PRACTICE_PORT: '0' },
    },
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
