import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { logFileIn } from '../../server/data.ts'
import { BUSY, DAY_MS, dayId } from '../support/bigDay.ts'
import { writeBigLog } from '../support/bigLog.ts'
import { RawTail } from '../support/rawTail.ts'
import { dataFolder, serverProcess } from '../support/serverProcess.ts'
import { note, say, times, title } from './figures.ts'
import { oursAtMost, part } from './table.ts'

/** How long a second kiosk waits for the card of a cup while another one asks for much. */

const MOST_MS = oursAtMost(50)
const TAILS = 6
const STALLED = 100
const OLD_LIST = 4_000
const LIST = 100
const WARM_LIST = 99
const PING_MS = 5
const QUIET_MS = 3_000

/** A day of the calendar, as the records ask for it. */
const day = (ms: number): string => new Date(ms).toISOString().slice(0, 10)

const ALONE = 'longest wait of a scan, nobody else asks for anything'
const TAIL = `the same beside ${TAILS} kiosks that read the log from its first entry`
const DEAF = `the same beside ${STALLED} that ask for the log from its first entry and take nothing`
const READINGS = `the same beside a list of ${LIST} readings of the past days`
const OLD = `the same beside an older kiosk's list of ${OLD_LIST} readings`
const VOIDS = `the same beside ${OLD_LIST} of them taken back in a list`
const RECORDS = 'the same beside the records of a year'
const LOT = 'the same beside a list of all jobs that were found'
const BACKUP = 'the same beside a backup'

const PROMISED = {
  ...{ [ALONE]: null, [TAIL]: MOST_MS, [DEAF]: MOST_MS },
  ...{ [READINGS]: MOST_MS, [OLD]: MOST_MS, [VOIDS]: MOST_MS },
  ...{ [RECORDS]: MOST_MS, [LOT]: MOST_MS, [BACKUP]: MOST_MS },
} as const
type What = keyof typeof PROMISED

export const waits = part('waits', PROMISED, async (put, { entries }) => {
  const { folder, remove } = dataFolder()
  const log = await writeBigLog(logFileIn(folder), { ...BUSY, entries, beforeMs: Date.now() })
  const backups = dataFolder()
  const turns = join(backups.folder, 'turns.txt')
  const server = await serverProcess(folder, {
    ...{ FLASHBELL_PRACTICE_PORT: '0', FLASHBELL_TURNS: turns },
    BUN_OPTIONS: `--preload ${fileURLToPath(new URL('./turns.ts', import.meta.url))}`,
  })
  const pinger = new Worker(new URL('./pinger.ts', import.meta.url).href)
  const cup = `${server.url}/api/scan/${dayId('C', 3, 1)}`
  try {
    title(`waits: a server with ${log.entries} entries`)
    let alone = Number.NaN
    const beside = async (what: What, load: () => Promise<unknown>) => {
      writeFileSync(turns, '')
      const waited = await pinged(pinger, cup, load)
      times(what, waited)
      say('  longest turn of the answering thread, its processor time', longestIn(turns), 'ms')
      const longest = Math.max(...waited)
      if (what === ALONE) alone = longest
      const limit = { what: 'nobody else', value: alone }
      put(what, { ours: longest, unit: 'ms', ...(what === ALONE ? {} : { limit }) })
    }
    // What a first question has to load, the look through the log that a start asks for, and what is compiled yet.
    await pinged(pinger, cup, () => Bun.sleep(2 * QUIET_MS))
    await post(server.url, readings(log.endMs, WARM_LIST))
    await beside(ALONE, () => Bun.sleep(QUIET_MS))
    await beside(TAIL, () => tailsRead(server.url, log.entries))
    await beside(DEAF, () => tailsStalled(server.url))
    await beside(READINGS, () => post(server.url, readings(log.endMs, LIST)))
    await beside(OLD, () => post(server.url, readings(log.endMs, OLD_LIST)))
    await beside(VOIDS, () => post(server.url, voids(OLD_LIST)))
    await beside(RECORDS, () =>
      got(`${server.url}/api/records?from=${day(log.endMs - 300 * DAY_MS)}&to=${day(log.endMs)}`),
    )
    await beside(LOT, () => got(`${server.url}/api/jobs?find=van`))
    await beside(BACKUP, () => backedUp(server.url, backups.folder))
    note('The server, the second kiosk and the load share the processors of this machine.')
  } finally {
    pinger.terminate()
    await server.stop('SIGTERM')
    remove()
    backups.remove()
  }
})

const longestIn = (turns: string): number =>
  Math.max(0, ...readFileSync(turns, 'latin1').trim().split('\n').map(Number))

/** @returns how long each question of the second kiosk waited while the load went on, ms */
async function pinged(pinger: Worker, url: string, load: () => Promise<unknown>) {
  pinger.postMessage({ url, everyMs: PING_MS })
  await load()
  return new Promise<number[]>((done, fail) => {
    pinger.onmessage = ({ data }) => (typeof data === 'string' ? fail(new Error(data)) : done(data))
    pinger.postMessage('stop')
  })
}

async function tailsRead(url: string, head: number): Promise<void> {
  const tails = Array.from({ length: TAILS }, () => new RawTail(url, 0))
  for (const tail of tails) tail.open()
  const until = performance.now() + 60_000
  while (tails.some(({ position }) => position < head) && performance.now() < until)
    await Bun.sleep(50)
  const behind = tails.filter(({ position }) => position < head).length
  for (const tail of tails) tail.close()
  if (behind > 0) note(`${behind} of ${TAILS} had not read all of it after a minute.`)
}

async function tailsStalled(url: string): Promise<void> {
  const tails = Array.from({ length: STALLED }, () => new RawTail(url, 0))
  for (const tail of tails) tail.openStalled()
  await Bun.sleep(QUIET_MS)
  for (const tail of tails) tail.close()
}

/** Readings as a kiosk kept them while its server was away, every two minutes. */
const readings = (endMs: number, count: number) =>
  Array.from({ length: count }, (_, n) => {
    const at = endMs - (count - n) * 120_000
    const data = { zone: 'booth', airC: 18 + (n % 7) / 2, rh: 0.5 }
    return { id: `wait-${count}-${n}`, type: 'ReadClimate', at, enteredAt: at, data }
  })

/** The readings of such a list taken back, one by one. */
const voids = (count: number) =>
  Array.from({ length: count }, (_, n) => ({
    ...{ id: `void-${n}`, type: 'VoidEntry', enteredAt: Date.now() },
    data: { entry: `wait-${count}-${n}.0`, reason: 'the sensor lay in the sun' },
  }))

async function post(url: string, commands: readonly object[]): Promise<void> {
  const headers = { 'Content-Type': 'application/json' }
  const body = JSON.stringify(commands)
  const answer = await fetch(`${url}/api/commands`, { method: 'POST', headers, body })
  if (!answer.ok) throw new Error(`${answer.status} ${(await answer.text()).slice(0, 300)}`)
  const answers = await answer.json()
  const refused = [answers].flat().filter(({ status = 200 }) => status !== 200)
  if (refused.length > 0)
    throw new Error(`${refused.length} refused: ${JSON.stringify(refused[0])}`)
}

async function got(url: string): Promise<void> {
  const answer = await fetch(url)
  const text = await answer.text()
  if (!answer.ok) throw new Error(`${url}: ${answer.status} ${text.slice(0, 300)}`)
}

async function backedUp(url: string, folder: string): Promise<void> {
  const schedule = { folder, hour: 3, keep: { days: 7, weeks: 5, months: 12 } }
  const headers = { 'Content-Type': 'application/json' }
  for (const [path, body] of [
    ['set', { schedule }],
    ['now', {}],
  ] as const) {
    const asked = { method: 'POST', headers, body: JSON.stringify(body) }
    const answer = await fetch(`${url}/api/backup/${path}`, asked)
    if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`)
  }
  for (;;) {
    await Bun.sleep(100)
    const answer = await (await fetch(`${url}/api/backup`)).json()
    if (!answer.running) return
  }
}
