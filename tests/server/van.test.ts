import { readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { afterAll, expect, test } from 'vitest'
import type { StateAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { evict } from '../../machines/evict.ts'
import { fold } from '../../machines/fold.ts'
import { emptyState, type State } from '../../machines/state.ts'
import { logFileIn } from '../../server/data.ts'
import { emptyHead } from '../../server/log/chain.ts'
import { type CommandLine, rehearse } from '../../server/rehearse.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { get, killAll, post, ran, serverProcess } from '../support/serverProcess.ts'
import { MINUTE, START_MS } from '../support/serverShop.ts'
import { TailClient } from '../support/serverTail.ts'

/**
 * The van's job over HTTP against a server in a process of its own. Its clock is today's, so the
 * day arrives as a kiosk's queue does that was without its server: pressed then, told now.
 */

type Line = {
  atMin: number
  type: string
  data: object
  id?: string
  happenedAtMin?: number
  enteredAtMin?: number
}
const VAN = fileURLToPath(new URL('../scenarios/van.json', import.meta.url))
const lines = JSON.parse(readFileSync(VAN, 'utf8')) as Line[]

/** What was done that day: a refused press was none. */
function doneThatDay(): Line[] {
  const told = [...rehearse(lines)].filter((line): line is CommandLine => 'ok' in line)
  return lines.filter((_, i) => told[i]?.ok)
}

const at = (min: number) => START_MS + Math.round(min * MINUTE)
const queued = (line: Line, i: number) => ({
  id: line.id ?? `van-${i}`,
  type: line.type,
  at: at(line.happenedAtMin ?? line.atMin),
  enteredAt: at(line.enteredAtMin ?? line.happenedAtMin ?? line.atMin),
  device: 'kiosk-1',
  seq: i,
  data: line.data,
})

const panels = (state: State) =>
  Object.fromEntries(
    Object.entries(state.things.panel).map(([id, { value, context }]) => {
      const { status, coats } = context as {
        status: unknown
        coats: readonly { counts: boolean }[]
      }
      return [id, { value, status, coats: coats.filter((c) => c.counts).length }]
    }),
  )

const place = folderForTests()
afterAll(killAll)

test('the van’s job is sent, followed to the end of the tail, verified, and found damaged when one byte is changed', async () => {
  const { url, stop } = await serverProcess(place.folder)
  const tail = await TailClient.open(`${url}/api/tail`)

  const day = doneThatDay()
  expect(day.length).toBe(lines.length - 2)
  const { status, body } = await post(`${url}/api/commands`, day.map(queued))
  expect(status).toBe(200)
  const answers = body as { status: number; body: { refusal?: unknown; error?: unknown } }[]
  expect(answers.filter((a) => a.status !== 200).map((a) => a.body)).toEqual([])

  const answer = (await get(`${url}/api/state`)).body as StateAnswer
  await tail.until((m) => m.id === answer.tail)
  await tail.close()
  const entries = tail.entries.map((m) => m.data as Entry)
  expect(entries).toHaveLength(answer.head)

  // The state that anybody folds from the tail is the server's own, as far as a server that runs
  // months after that day still holds it, and the day ended as rehearsed.
  const first = entries[0] as Entry
  const folded = entries.reduce(fold, emptyState(first.shop, emptyHead(first.shop).hash))
  const held = (state: State) => evict(state, answer.serverTime)
  expect(held(folded)).toEqual(held(answer.state))
  const rehearsed = [...rehearse(lines)].at(-1) as { state: State }
  expect(panels(folded)).toEqual(panels(rehearsed.state))
  expect(Object.values(panels(folded)).map((p) => p.value)).toEqual(
    Array(3).fill({ route: 'passed', attention: 'awake' }),
  )

  await stop('SIGTERM')
  const verify = () => ran(['verify', '--data', place.folder])
  expect(JSON.parse((await verify()).out)).toMatchObject({ ok: true, head: answer.head })

  const file = logFileIn(place.folder)
  const bytes = readFileSync(file)
  const opened = entries.find((e) => e.type === 'JobOpened') as Entry
  const found = bytes.indexOf('"title":"Delivery van, rear right corner"')
  expect(found).toBeGreaterThan(0)
  bytes[found + '"title":"'.length] = 'd'.charCodeAt(0)
  writeFileSync(file, bytes)
  const { code, out } = await verify()
  expect(code).toBe(1)
  expect(JSON.parse(out)).toMatchObject({ ok: false, position: opened.position, id: opened.id })
})
