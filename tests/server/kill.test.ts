import { expect, test } from 'vitest'
import type { Entry } from '../../machines/envelope.ts'
import { verifyFolder } from '../../server/verifyLog.ts'
import { drill, drillPatience, type SeededDice } from '../support/drill.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { command } from '../support/serverCommands.ts'
import { get, post, type ServerProcess, serverProcess } from '../support/serverProcess.ts'

const CLIENTS = 8
const SHOP_ROUNDS = 10

const place = folderForTests()

type Sent = ReturnType<typeof command>
type Acknowledged = Map<string, { readonly sent: Sent; readonly entries: readonly Entry[] }>

const gun = (id: string): Sent => command(id, 'SaveGun', { gun: id, needleMm: 1.3 })

/**
 * A client that sends one command after another, every third time several at once, until the server
 * is gone. What was answered as durable goes to `acknowledged`.
 */
async function client(url: string, name: string, acknowledged: Acknowledged, told: () => void) {
  for (let i = 0; ; i += 1) {
    const wishes = Array.from({ length: i % 3 === 0 ? 5 : 1 }, (_, n) => gun(`${name}-${i}-${n}`))
    try {
      const { body } = await post(`${url}/api/commands`, wishes)
      for (const [n, answer] of body.entries()) {
        const sent = wishes[n]
        if (answer.status !== 200 || !sent) throw new Error(JSON.stringify(answer))
        acknowledged.set(sent.id, { sent, entries: answer.body.entries })
      }
    } catch (error) {
      // Only that the line was cut ends a client; a wrong answer fails the test.
      if (error instanceof Error && 'code' in error) return
      throw error
    }
    told()
  }
}

/** Loads a server and kills it after a number of answers, with others under way. */
async function killedUnderLoad(
  server: ServerProcess,
  round: number,
  acknowledged: Acknowledged,
  dice: SeededDice,
) {
  // How far a group is at that moment is up to the scheduler.
  let left = dice.between(1, 150)
  const told = () => {
    left -= 1
    if (left === 0) void server.stop('SIGKILL')
  }
  const names = Array.from({ length: CLIENTS }, (_, n) => `r${round}-c${n}`)
  await Promise.all(names.map((name) => client(server.url, name, acknowledged, told)))
}

async function entriesAt(url: string): Promise<Entry[]> {
  const all: Entry[] = []
  for (;;) {
    const { body } = await get(`${url}/api/entries?after=${all.length}&limit=1000`)
    if (body.entries.length === 0) return all
    all.push(...body.entries)
  }
}

test('a server killed again and again under load loses nothing that it acknowledged', {
  timeout: drillPatience,
}, async () => {
  const { rounds, dice, done } = drill('kills under load', { small: 5, long: 250 })
  const acknowledged: Acknowledged = new Map()
  let all = 0
  for (let round = 0; round < rounds; round += 1) {
    // What is compared grows with the log: another shop now and then.
    if (round > 0 && round % SHOP_ROUNDS === 0) {
      all += acknowledged.size
      acknowledged.clear()
      place.renew()
    }
    const server = await serverProcess(place.folder)
    await killedUnderLoad(server, round, acknowledged, dice)
    const verdict = await verifyFolder(place.folder)
    expect(verdict).toMatchObject({ ok: true })

    const again = await serverProcess(place.folder)
    const stored = await entriesAt(again.url)
    expect(stored.length).toBe(verdict.ok ? verdict.count : 0)
    const byCommand = Map.groupBy(stored, (entry) => entry.command)
    for (const [id, { entries }] of acknowledged) expect(byCommand.get(id)).toEqual(entries)
    // A client that did not hear the last answers sends again: nothing is recorded twice.
    const last = [...acknowledged.values()].slice(-20)
    const { body } = await post(
      `${again.url}/api/commands`,
      last.map(({ sent }) => sent),
    )
    expect(body).toEqual(
      last.map(({ entries }) => ({
        status: 200,
        body: { position: entries.at(-1)?.position, entries },
      })),
    )
    const { body: state } = await get(`${again.url}/api/state`)
    expect(state.head).toBe(stored.length)
    expect(Object.keys(state.state.things.gun).length).toBe(stored.length - 1)
    await again.stop('SIGKILL')
  }
  all += acknowledged.size
  expect(all).toBeGreaterThan(rounds)
  done({ acknowledged: all })
})
