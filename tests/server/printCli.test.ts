import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { textsIn } from '../../server/printing/ippMessage.ts'
import { type RecordedPrinter, recordedPrinter } from '../support/ippAnswers.ts'
import { BENCH } from '../support/printShop.ts'
import { CUP, DOOR, JOB, vanInWork } from '../support/serverCommands.ts'
import {
  dataFolder,
  freePort,
  get,
  post,
  ran,
  type ServerProcess,
  serverProcess,
} from '../support/serverProcess.ts'
import { BASE } from '../support/sheets.ts'

/** `flashbell print`, as a person types it, to a server that runs and a printer that answers over HTTP. */

let printer: RecordedPrinter
let socket: Bun.Server<unknown>
let server: ServerProcess
const { folder, remove } = dataFolder()

beforeAll(async () => {
  printer = recordedPrinter()
  socket = Bun.serve({
    port: 0,
    async fetch(request) {
      const body = new Uint8Array(await request.arrayBuffer())
      return new Response(new Uint8Array(await printer.post('', body, 0, null)))
    },
  })
  server = await serverProcess(folder)
  for (const command of vanInWork)
    expect((await post(`${server.url}/api/commands`, command)).status).toBe(200)
})
afterAll(async () => {
  await server.stop('SIGTERM')
  await socket.stop(true)
  remove()
})

const portOf = () => new URL(server.url).port
const print = (...words: string[]) => ran(['print', ...words, '--port', portOf()])
const setUp = (...printers: object[]) =>
  post(`${server.url}/api/printing/set`, { printers, auto: false, byKiosk: [] })
const address = () => `ipp://localhost:${socket.port}/ipp/print`
const namesSent = () => printer.taken.map((one) => textsIn(one, 'operation', 'job-name')[0])

describe('flashbell print', () => {
  test.each([
    [[], 'print wants what to print: nothing won’t work. Use one of cup, panel, job'],
    [
      ['mug', 'K7F'],
      'mug won’t work. Use one of cup, panel, job, person, gun, shelf, commands, ruler',
    ],
    [['cup'], 'print cup wants the id of a cup.'],
    [['cup', 'K7F', 'more'], 'more is one word too many.'],
    [['cup', 'K7F', '--lot', 'B1'], '--lot belongs to print shelf, not to print cup.'],
  ])('%j is a wrong use, told from what is right', async (words, said) => {
    const { code, out, err } = await print(...words)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err.replaceAll("'", '’')).toContain(said)
  })

  test('without a server it says how to start one', async () => {
    const port = String(await freePort())
    expect(await ran(['print', 'cup', CUP, '--port', port])).toEqual({
      ...{ code: 1, out: '' },
      err: `No server answers on port ${port}. Start one with flashbell serve, or name its port with --port.\n`,
    })
  })

  test('without a printer it says where one is added', async () => {
    await setUp()
    expect(await print('cup', CUP)).toEqual({
      ...{ code: 1, out: '' },
      err: 'This shop has no printer. Add one in Setup, Printers.\n',
    })
  })

  test('a cup by the beginning of its id goes through the server’s queue and is in the log', async () => {
    await setUp({ ...BENCH, address: address() })
    const { code, out, err } = await print('cup', CUP.slice(0, 4).toLowerCase())
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(JSON.parse(out)).toMatchObject({
      kind: 'cup',
      thing: CUP,
      step: 'done',
      printer: 'Bench',
    })
    expect(namesSent().at(-1)).toMatch(`cup ${CUP}`)
    const { body } = await get(`${server.url}/api/entries?after=0&limit=100`)
    const logged = (body as { entries: { type: string; cup?: string }[] }).entries
    expect(logged.filter(({ type }) => type === 'CupLabelPrinted')).toHaveLength(1)
  })

  test('each other kind too; a sheet goes to the printer whose paper is large enough, another where it is named', async () => {
    const office = { ...BENCH, printer: 'office', name: 'Office', widthMm: 210, heightMm: 297 }
    await setUp({ ...BENCH, address: address() }, { ...office, address: address() })
    await post(`${server.url}/api/commands`, {
      ...{ id: 'ana', type: 'AddPerson' },
      data: { person: 'ana', name: 'Ana Example', role: 'painter' },
    })
    await post(`${server.url}/api/commands`, {
      ...{ id: 'gun', type: 'SaveGun' },
      data: { gun: 'gun-1', name: 'Clear gun' },
    })
    for (const [words, on] of [
      [['panel', DOOR], 'Bench'],
      [['panel', DOOR, '--printer', 'office'], 'Office'],
      [['job', JOB], 'Office'],
      [['person', 'ANA'], 'Bench'],
      [['gun', 'gun-1'], 'Bench'],
      [['shelf', BASE.sheet, '--lot', 'B 22'], 'Bench'],
      [['commands'], 'Office'],
      [['ruler', 'bench'], 'Bench'],
    ] as const) {
      const before = printer.taken.length
      const { code, out, err } = await print(...words)
      expect([words, code, err]).toEqual([words, 0, ''])
      expect(JSON.parse(out)).toMatchObject({ kind: words[0], printer: on, step: 'done' })
      expect(printer.taken.length - before).toBe(1)
    }
  })

  test('what there is not, and what is something else, is said', async () => {
    expect(await print('cup', '9999')).toMatchObject({ code: 1, err: 'There is no cup 9999.\n' })
    expect(await print('cup', DOOR)).toMatchObject({
      code: 1,
      err: `${DOOR} is a panel, not a cup.\n`,
    })
    expect(await print('gun', 'gun-9')).toMatchObject({ code: 1, err: 'There is no gun gun-9.\n' })
    const wrong = await print('cup', CUP, '--printer', 'Attic')
    expect(wrong.code).toBe(2)
    expect(wrong.err.replaceAll("'", '’')).toContain(
      '--printer: Attic won’t work. Use one of Bench, Office.',
    )
  })

  test('a printer without labels: it waits, says why and that it comes out by itself, and ends with 3', async () => {
    printer.answers('getPrinterAttributes', 'aboutEmpty')
    const before = printer.taken.length
    const { code, out, err } = await print('panel', DOOR)
    expect(code).toBe(3)
    expect(JSON.parse(out)).toMatchObject({ kind: 'panel', thing: DOOR, step: 'waiting' })
    expect(err).toBe(
      'It waits for its printer and comes out by itself. The printer is out of labels. Load a roll.\n',
    )
    printer.answers('getPrinterAttributes')
    await post(`${server.url}/api/printing/try`, {})
    await expect.poll(() => printer.taken.length - before).toBe(1)
  })
})
