import { existsSync, readdirSync, readFileSync, readlinkSync, writeFileSync } from 'node:fs'
import { connect } from 'node:net'
import { networkInterfaces } from 'node:os'
import { describe, expect, test } from 'vitest'
import { logFileIn } from '../../server/data.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { command, DOOR, JOB, QUARTER, ROUTE, vanInWork } from '../support/serverCommands.ts'
import { get, post, ran, serverProcess } from '../support/serverProcess.ts'
import { TailClient } from '../support/serverTail.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

const place = folderForTests()

const verify = () => ran(['verify', '--data', place.folder])
const positions = (tail: TailClient) => tail.entries.map(({ id }) => Number(id?.split(':')[0]))
const at = (position: number) => (message: { id: string | null }) =>
  message.id?.startsWith(`${position}:`) ?? false

describe('a server in a process of its own', () => {
  test('takes commands, shows state and entries, and its tail can be resumed', async () => {
    const { url, stop } = await serverProcess(place.folder)
    const tail = await TailClient.open(`${url}/api/tail`)
    const [first, ...rest] = vanInWork
    expect(await post(`${url}/api/commands`, first)).toMatchObject({
      status: 200,
      body: { position: 2 },
    })
    const { status, body } = await post(`${url}/api/commands`, rest)
    expect(status).toBe(200)
    expect(body).toMatchObject([3, 4, 5, 6, 7, 8].map((position) => ({ body: { position } })))

    await tail.until(at(8))
    expect(positions(tail)).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
    const stored = await get(`${url}/api/entries`)
    expect(tail.entries.map(({ data }) => data)).toEqual(stored.body.entries)
    expect(tail.entries[0]?.data).toMatchObject({
      type: 'SettingsChanged',
      data: { timeZone: 'Europe/Madrid' },
    })
    const state = await get(`${url}/api/state`)
    expect(state.body).toMatchObject({ head: 8, tail: tail.entries.at(-1)?.id })
    expect(Object.keys(state.body.state.things.panel)).toEqual([DOOR, QUARTER])
    await tail.close()

    await post(`${url}/api/commands`, command('p', 'PauseJob', { job: JOB }))
    const resumed = await TailClient.open(`${url}/api/tail`, tail.entries.at(-1)?.id ?? '')
    await resumed.until(at(11))
    expect(positions(resumed)).toEqual([9, 10, 11])
    const lost = await TailClient.open(`${url}/api/tail`, '11:ffffffff')
    await lost.next()
    expect(await lost.next()).toMatchObject({
      event: 'reset',
      data: { params: { unknown: '11:ffffffff' } },
    })

    const before = await get(`${url}/api/state`)
    expect(before.body.head).toBe(11)
    const ends = [resumed, lost].map((open) => open.next())
    expect(await stop('SIGTERM')).toEqual({ code: 0, err: '' })
    expect(await Promise.all(ends)).toEqual([null, null])
    const again = await serverProcess(place.folder)
    expect((await get(`${again.url}/api/state`)).body.state).toEqual(before.body.state)
    expect(await again.stop('SIGINT')).toEqual({ code: 0, err: '' })
  })

  test('refuses bad input with the field and what is accepted, and records nothing of it', async () => {
    const { url, stop } = await serverProcess(place.folder)
    const send = (body: unknown) => post(`${url}/api/commands`, body)
    expect((await send(vanInWork)).status).toBe(200)
    const mix = (sheet: string) => ({ cup: 'CCCC3333', sheet, totalMl: 100 })
    const zeroAmong = [
      { atC: 20, minutes: 0 },
      { atC: 30, minutes: 5 },
    ]
    const panel = { job: JOB, panel: 'PPPP9999', name: 'Roof', operation: 'repair', route: ROUTE }
    const tries: readonly [unknown, number, string][] = [
      [command('b1', 'MixCup', mix('no-such-sheet')), 409, `one of ${BASE.sheet}, ${CLEAR.sheet}`],
      [
        command('b2', 'SaveSheet', { sheet: { ...BASE, flashBetween: zeroAmong } }),
        400,
        'data.sheet.flashBetween',
      ],
      [command('b3', 'ReadClimate', { zone: 'booth', airC: 400, rh: 0.5 }), 400, 'data.airC'],
      [command('b4', 'ReadClimate', { zone: 'booth', airC: 20, rh: 55 }), 400, '(0.55 is 55 %)'],
      ['two coats of clear, please', 400, 'Use JSON'],
      [command('b5', 'PaintItBlue', {}), 400, 'one of SaveSheet'],
      [command('b6', 'DoPrepStep', { panel: 'PPPP9999', step: 0 }), 409, `one of ${DOOR}`],
      [command('b7', 'AddPanel', { ...panel, job: 'NABADY22' }), 409, `one of ${JOB}`],
      [command('b8', 'AddPanel', { ...panel, panel: DOOR }), 409, 'Use a new id.'],
      [
        command('b9', 'OpenJob', { job: 'JJJJ9999', title: 'V\u0000n' }),
        400,
        'Use text without NUL',
      ],
      [command('b10', 'OpenJob', { job: 'JJJJ9999', title: '' }), 400, 'text of 1 to 120'],
      [command('b11', 'OpenJob', { job: 'O0O0I1L1', title: 'Van' }), 400, 'eight characters'],
      [command('b12', 'OpenJob', { job: 'JJJJ9999' }), 400, 'data.title is missing'],
      [{ ...command('b13', 'PauseJob', { job: JOB }), at: 12 }, 400, 'UTC milliseconds'],
      [{ ...command('no id!', 'PauseJob', { job: JOB }) }, 400, 'id: "no id!" won\'t work.'],
      [{}, 400, 'id is missing'],
      ['null', 400, 'an object with id'],
    ]
    for (const [body, status, said] of tries) {
      const answer = await send(body)
      const text = JSON.stringify(answer.body)
      expect({ body, status: answer.status }).toEqual({ body, status })
      expect(JSON.parse(text)).toMatchObject(
        status === 400
          ? { error: { field: expect.any(String), message: expect.any(String) } }
          : { refusal: { message: expect.stringContaining(said) } },
      )
      expect(text.replaceAll('\\"', '"')).toContain(said)
      expect(text).not.toMatch(/\.ts|node_modules|at [A-Za-z]+ \(/)
    }
    expect(
      await post(`${url}/api/calc/pour`, { ratio: '4:x', by: 'volume', totalMl: 1 }),
    ).toMatchObject({
      status: 400,
      body: { error: { field: 'ratio', message: expect.stringContaining('"4:x"') } },
    })
    expect((await get(`${url}/api/state`)).body.head).toBe(8)
    expect((await get(`${url}/healthz`)).body).toMatchObject({ ok: true, head: 8 })
    expect(await stop('SIGTERM')).toEqual({ code: 0, err: '' })
    expect((await verify()).code).toBe(0)
  })

  test('cuts off a body above 1 MiB with a sentence and goes on', async () => {
    const { url, stop } = await serverProcess(place.folder)
    const huge = JSON.stringify({ ...vanInWork[0], reason: 'x'.repeat(3_000_000) })
    expect(await post(`${url}/api/commands`, huge)).toMatchObject({
      status: 413,
      body: { error: { field: 'body', message: expect.stringContaining('1 MiB') } },
    })
    expect((await post(`${url}/api/commands`, vanInWork)).status).toBe(200)
    await stop('SIGTERM')
  })

  test('is found at 127.0.0.1 and at no other address of this computer', async () => {
    const { url, pid, stop } = await serverProcess(place.folder)
    const port = Number(new URL(url).port)
    expect(new URL(url).hostname).toBe('127.0.0.1')
    const others = Object.values(networkInterfaces())
      .flatMap((all) => all ?? [])
      .map(({ address }) => address)
      .filter((address) => address !== '127.0.0.1' && !address.startsWith('fe80'))
    for (const address of [...others, '127.0.0.2', '::1'])
      expect({ address, answers: await answersAt(address, port) }).toEqual({
        address,
        answers: false,
      })
    expect(await answersAt('127.0.0.1', port)).toBe(true)
    if (existsSync('/proc/net/tcp'))
      expect(listeningOn(pid)).toEqual([
        `0100007F:${port.toString(16).toUpperCase().padStart(4, '0')}`,
      ])
    await stop('SIGTERM')
  })
})

describe('a request without a name that can be read', () => {
  test.each(['Host: a b', 'Host: [::1', 'Host: 127.0.0.1:99999', 'Host: %zz', 'Host: '])(
    '%j is answered 400 with the names there are, and is no fault of the server',
    async (line) => {
      const { url, stop } = await serverProcess(place.folder)
      const answer = await rawGet(Number(new URL(url).port), line)
      expect(answer).toMatch(/^HTTP\/1\.1 400 /)
      expect(answer).toContain('"field":"Host"')
      expect(answer).toContain('one of 127.0.0.1, localhost, [::1], with or without a port')
      expect(await stop('SIGTERM')).toEqual({ code: 0, err: '' })
    },
  )

  test('none at all is answered 400', async () => {
    const { url, stop } = await serverProcess(place.folder)
    expect(await rawGet(Number(new URL(url).port), 'Accept: */*')).toMatch(/^HTTP\/1\.1 400 /)
    expect(await stop('SIGTERM')).toEqual({ code: 0, err: '' })
  })
})

describe('flashbell verify', () => {
  test('gives head and count, also while the server runs', async () => {
    const { url, stop } = await serverProcess(place.folder)
    await post(`${url}/api/commands`, vanInWork)
    const { code, out } = await verify()
    expect({ code, verdict: JSON.parse(out) }).toMatchObject({
      code: 0,
      verdict: { ok: true, head: 8, count: 8, hash: expect.stringMatching(/^[0-9a-f]{64}$/) },
    })
    expect((await post(`${url}/api/commands`, command('p', 'PauseJob', { job: JOB }))).status).toBe(
      200,
    )
    await stop('SIGKILL')
    expect(JSON.parse((await verify()).out)).toMatchObject({ ok: true, head: 11 })
  })

  test('names the first entry of which a byte was changed in the file', async () => {
    const { url, stop } = await serverProcess(place.folder)
    await post(`${url}/api/commands`, vanInWork)
    await stop('SIGTERM')
    const file = logFileIn(place.folder)
    const bytes = readFileSync(file)
    // The text of the entry, and not the snapshot beside it: only there keys are in order.
    const found = bytes.indexOf('"title":"Delivery van, rear corner"},"device":null')
    expect(found).toBeGreaterThan(0)
    bytes[found + '"title":"'.length] = 'd'.charCodeAt(0)
    writeFileSync(file, bytes)
    const { code, out } = await verify()
    expect({ code, verdict: JSON.parse(out) }).toMatchObject({
      code: 1,
      verdict: { ok: false, position: 4, id: 'j-open.0', why: expect.stringContaining('hash') },
    })
  })
})

function answersAt(host: string, port: number): Promise<boolean> {
  return new Promise((done) => {
    const socket = connect({ host, port, timeout: 2_000 })
    const answer = (isOpen: boolean) => {
      socket.destroy()
      done(isOpen)
    }
    socket.on('connect', () => answer(true))
    socket.on('error', () => answer(false))
    socket.on('timeout', () => answer(false))
  })
}

/** What a server answers to a request of HTTP/1.1 with one header line. */
function rawGet(port: number, line: string): Promise<string> {
  return new Promise((done, failed) => {
    let text = ''
    const socket = connect({ host: '127.0.0.1', port })
    socket.on('data', (bytes) => {
      text += bytes.toString()
    })
    socket.on('close', () => done(text))
    socket.on('error', failed)
    socket.write(`GET /healthz HTTP/1.1\r\n${line}\r\nConnection: close\r\n\r\n`)
  })
}

/** Addresses on which a process listens, as /proc/net/tcp writes them (proc(5)): Linux only. */
function listeningOn(pid: number): string[] {
  const own = new Set(
    readdirSync(`/proc/${pid}/fd`).flatMap((fd) => {
      try {
        return /^socket:\[(\d+)\]$/.exec(readlinkSync(`/proc/${pid}/fd/${fd}`))?.[1] ?? []
      } catch {
        return []
      }
    }),
  )
  const lines = ['tcp', 'tcp6'].flatMap((name) =>
    readFileSync(`/proc/${pid}/net/${name}`, 'utf8').split('\n').slice(1),
  )
  return lines.flatMap((line) => {
    const [, local = '', , state, , , , , , inode = ''] = line.trim().split(/\s+/)
    return state === '0A' && own.has(inode) ? [local] : []
  })
}
