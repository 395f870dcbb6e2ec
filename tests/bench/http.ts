import { dataFolder, post, serverProcess } from '../support/serverProcess.ts'
import { median, note, quantile, say, title } from './figures.ts'
import { rawCommitter } from './rawCommits.ts'

/** What a command costs by the whole path over HTTP, against one durable row a commit without anything of ours. */

const ROUNDS = 7
const RAW = 100
const EACH = 12

/** Milliseconds of one piece of work. */
async function timed(work: () => unknown): Promise<number> {
  const start = performance.now()
  await work()
  return performance.now() - start
}

export async function http(): Promise<void> {
  title('Commands over HTTP')
  note('server in a process of its own; its clients share the processors with it: lower bounds')
  const { folder, remove } = dataFolder()
  const server = await serverProcess(folder, { FLASHBELL_PRACTICE_PORT: '0' })
  const raw = rawCommitter()
  let sent = 0
  const command = async (client: number) => {
    sent += 1
    const body = { id: `b${sent}`, type: 'CleanGun', data: { gun: `gun-${client}` } }
    const answer = await post(`${server.url}/api/commands`, body)
    if (answer.status !== 200) throw new Error(JSON.stringify(answer.body))
  }
  const inOrder = async (client: number, count: number) => {
    for (let i = 0; i < count; i += 1) await command(client)
  }
  const clients = (count: number, each: number) =>
    Promise.all(Array.from({ length: count }, (_, client) => inOrder(client, each)))
  const rawRow = async () => (await timed(() => raw.commit(RAW))) / RAW
  await clients(16, EACH)
  const all = { raw: [] as number[], one: [] as number[], sixteen: [] as number[] }
  const ratios = { one: [] as number[], sixteen: [] as number[] }
  for (let round = 0; round < ROUNDS; round += 1) {
    const before = await rawRow()
    const one = (await timed(() => clients(1, RAW))) / RAW
    const between = await rawRow()
    const sixteen = (await timed(() => clients(16, EACH))) / (16 * EACH)
    const after = await rawRow()
    all.raw.push(before, between, after)
    all.one.push(one)
    all.sixteen.push(sixteen)
    ratios.one.push((before + between) / 2 / one)
    ratios.sixteen.push((between + after) / 2 / sixteen)
  }
  raw.close()
  await server.stop('SIGTERM')
  remove()
  const spread = (of: readonly number[]) =>
    `(${quantile(of, 0).toFixed(2)} to ${quantile(of, 1).toFixed(2)}, n ${of.length})`
  say('raw durable commits', 1_000 / median(all.raw), '/s')
  say('one client / raw durable commits', median(ratios.one), 'x', spread(ratios.one))
  say(
    'sixteen clients / raw durable commits',
    median(ratios.sixteen),
    'x',
    `(target 2.5) ${spread(ratios.sixteen)}`,
  )
}
