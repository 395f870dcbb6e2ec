import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { logFileIn } from '../../../server/data.ts'
import { QUIET } from '../../support/bigDay.ts'
import { writeBigLog } from '../../support/bigLog.ts'
import { drill, drillPatience, isLong } from '../../support/drill.ts'
import { folderForTests } from '../../support/folderForTests.ts'
import { RawTail } from '../../support/rawTail.ts'
import { command, vanInWork } from '../../support/serverCommands.ts'
import { get, post, serverProcess } from '../../support/serverProcess.ts'

/** Many kiosks that come, stall and are cut: each has every entry once, and the server stays as large. */

const place = folderForTests()

/** Memory of a process that is its own, MB (proc(5), statm). */
function memoryMb(pid: number): number {
  const [, resident = '0'] = readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')
  return (Number(resident) * 4_096) / 1_000_000
}

const median = (all: readonly number[]): number =>
  all.toSorted((a, b) => a - b)[Math.floor(all.length / 2)] ?? 0

const grown = (all: readonly number[]): number => Math.max(...all) / Math.min(...all)

const KIOSKS = isLong ? 200 : 20
/** More than a network takes in before anybody reads it: in the long run alone, for it takes a while to make. */
const LARGE = 20_000
const STALLED = 20
/** Rounds without growth after which a server that was just started is as large as it gets by starting; a storm is among those before. */
const WARM_UP = 6
/** What one painter's shop records in a busy minute, each second. */
const PRESSES = 4

test('each kiosk’s tail is whole, whatever its line does, and memory stays flat', {
  timeout: drillPatience,
}, async () => {
  // A part of the long run has as many kiosks, for a shorter while.
  const { rounds: seconds, dice, count, counted, done } = drill('kiosks', { small: 6, long: 1_200 })
  if (isLong) await writeBigLog(logFileIn(place.folder), { ...QUIET, entries: LARGE })
  const server = await serverProcess(place.folder)
  await post(`${server.url}/api/commands`, vanInWork)
  const { head: first } = (await get(`${server.url}/healthz`)).body
  const from = () => first - dice.below(8)
  const kiosks = Array.from({ length: KIOSKS }, () => new RawTail(server.url, from()))
  // These ask for all of the log and take nothing of it.
  const stalled = Array.from({ length: isLong ? STALLED : 0 }, () => new RawTail(server.url, 0))
  for (const one of stalled) one.openStalled()
  for (const kiosk of kiosks) kiosk.open()
  const memory: number[] = []
  let second = 0
  let longestMs = 0
  const round = async () => {
    const asked = performance.now()
    const { status } = await post(`${server.url}/api/commands`, pressesOf(second))
    longestMs = Math.max(longestMs, performance.now() - asked)
    expect(status).toBe(200)
    count('presses', PRESSES)
    // A storm: all lines are cut at once, as by a switch that restarts.
    const isStorm = second % 15 === 5
    for (const kiosk of kiosks) {
      if (isStorm || dice.chance(2)) {
        kiosk.cut()
        count('cuts')
      } else if (dice.chance(3)) {
        kiosk.stall()
        count('stalls')
      } else if (dice.chance(30)) kiosk.goOn()
    }
    memory.push(memoryMb(server.pid))
    second += 1
    await new Promise((next) => setTimeout(next, Math.max(0, asked + 1_000 - performance.now())))
  }
  // A server that was just started doubles while it makes its code ready, on a busy machine for long.
  while (memory.length <= WARM_UP || grown(memory.slice(-WARM_UP)) > 1.05) await round()
  memory.length = 0
  while (memory.length < seconds) await round()
  for (const kiosk of kiosks) kiosk.goOn()
  const { head } = (await get(`${server.url}/healthz`)).body
  await expect.poll(() => kiosks.filter(({ position }) => position < head).length).toBe(0)
  expect(kiosks.flatMap(({ wrong }) => wrong)).toEqual([])
  const quarter = Math.max(1, Math.floor(memory.length / 4))
  const [early, late] = [median(memory.slice(quarter, 2 * quarter)), median(memory.slice(-quarter))]
  done({
    kiosks: KIOSKS,
    entries: head,
    'let go of': stalled.length,
    connects: kiosks.reduce((sum, { connects }) => sum + connects, 0),
    'MB in the second quarter': Math.round(early),
    'MB in the last': Math.round(late),
    'longest answer, ms': Math.round(longestMs),
  })
  // Their lines were ended long ago: what lay in the network by then is all that they get.
  for (const one of stalled) one.goOn()
  await expect.poll(() => stalled.filter(({ isLetGo }) => !isLetGo).length).toBe(0)
  for (const { position } of stalled) expect(position).toBeLessThan(first)
  for (const kiosk of [...kiosks, ...stalled]) kiosk.close()
  expect(counted('cuts')).toBeGreaterThan(KIOSKS / 2)
  // The rest is what the shop itself has recorded meanwhile, and what the collector has not taken yet.
  expect(late).toBeLessThan(early * 1.25 + 40)
  expect(await server.stop('SIGTERM')).toMatchObject({ code: 0 })
})

/** Readings that differ, so that none is left out; a cup and a note now and then would not tell more. */
const pressesOf = (second: number) =>
  Array.from({ length: PRESSES }, (_, n) =>
    command(`air-${second}-${n}`, 'ReadClimate', {
      zone: n % 2 ? 'booth' : 'bench',
      airC: 18 + ((second + n) % 9),
      rh: 0.5,
    }),
  )
