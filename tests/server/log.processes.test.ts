import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { verify } from '../../server/log/chain.ts'
import { inPages, type Store } from '../../server/log/log.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { drill, drillPatience } from '../support/drill.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { logFolder } from '../support/logFiles.ts'

const WRITER = fileURLToPath(new URL('../support/logWriter.ts', import.meta.url))
const GROUP = 3

let place: ReturnType<typeof logFolder>
type Child = Bun.Subprocess<'ignore', 'pipe', 'inherit'>
const started: Child[] = []

beforeEach(() => {
  place = logFolder()
})
afterEach(() => {
  for (const child of started.splice(0)) child.kill('SIGKILL')
  place.remove()
})

/**
 * A child that appends `count` groups (0: no end); `before` are shell commands that set its limits.
 */
function writer(count: number, before = ''): Child {
  const command = [process.execPath, WRITER, place.file, 'S1', String(GROUP), String(count)]
  const child = Bun.spawn(
    before ? ['sh', '-c', `${before}; exec "$@"`, 'sh', ...command] : command,
    {
      stdout: 'pipe',
      stderr: 'inherit',
    },
  )
  started.push(child)
  return child
}

/** What a child prints, line by line, as far as it came. */
async function* linesOf(child: Child): AsyncGenerator<string> {
  const decoder = new TextDecoder()
  let rest = ''
  for await (const chunk of child.stdout) {
    const lines = (rest + decoder.decode(chunk, { stream: true })).split('\n')
    rest = lines.pop() ?? ''
    yield* lines
  }
}

const positionIn = (line: string): number => Number(line.replace('done ', ''))

/** The log as the next start finds it: whole groups only, and a chain that holds. */
async function headAfterRestart(): Promise<number> {
  const store = sqliteStore(place.file)
  try {
    const verdict = await verify(
      'S1',
      inPages((page) => store.raw('S1', page)),
    )
    if (!verdict.ok) throw new Error(`entry ${verdict.position}: ${verdict.damage.code}`)
    const sizes = await nthOfEntries(store)
    expect(sizes).toEqual(sizes.map((_, i) => (i % GROUP) + 1))
    expect(sizes.length % GROUP).toBe(0)
    return verdict.head.position
  } finally {
    await store.close()
  }
}

async function nthOfEntries(store: Store): Promise<unknown[]> {
  const entries = await Array.fromAsync(inPages((page) => store.read('S1', page)))
  return entries.map((entry) => entry.data.nth)
}

test('a store killed again and again at any moment loses nothing that it acknowledged', {
  timeout: drillPatience,
}, async () => {
  const { rounds, dice, done } = drill('kills of a store', { small: 5, long: 250 })
  let acknowledged = 0
  for (let round = 0; round < rounds; round++) {
    const child = writer(0)
    // Any number of groups; how far the child is with the next one is up to the scheduler.
    let left = dice.between(1, 60)
    for await (const line of linesOf(child)) {
      acknowledged = positionIn(line)
      left -= 1
      if (left === 0) child.kill('SIGKILL')
    }
    await child.exited
    expect(child.signalCode).toBe('SIGKILL')
    const head = await headAfterRestart()
    expect(head).toBeGreaterThanOrEqual(acknowledged)
    acknowledged = head
  }
  const store = sqliteStore(place.file)
  const next = entriesAfter('S1', await store.head('S1'), [{}])
  expect(await store.append('S1', acknowledged, next)).toBe('done')
  done({ acknowledged })
  await store.close()
})

test('two servers on one file take turns: every place is given once, both get their groups in', async () => {
  const children = [writer(60), writer(60)]
  const said = await Promise.all(children.map((child) => Array.fromAsync(linesOf(child))))
  expect(await Promise.all(children.map((child) => child.exited))).toEqual([0, 0])
  const positions = said.flat().map(positionIn)
  expect(new Set(positions).size).toBe(120)
  expect(await headAfterRestart()).toBe(120 * GROUP)
})

test('a file that may not grow any more refuses the group and keeps all that was acknowledged', async () => {
  // The kernel refuses writes beyond 1 MiB (ulimit counts 512 bytes); without the trap it would
  // kill instead.
  const child = writer(0, 'trap "" XFSZ; ulimit -f 2048')
  const lines = await Array.fromAsync(linesOf(child))
  expect(await child.exited).toBe(1)
  expect(lines.at(-1)).toMatch(/^failed (io|full)$/)
  const acknowledged = positionIn(lines.at(-2) ?? '')
  expect(acknowledged).toBeGreaterThan(100)
  expect(await headAfterRestart()).toBe(acknowledged)
})
