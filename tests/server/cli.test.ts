import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import packageJson from '../../package.json' with { type: 'json' }
import { logFileIn } from '../../server/data.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { readSnapshot } from '../../server/snapshot.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { command, vanInWork } from '../support/serverCommands.ts'
import { dataFolder, get, post, ran, serverProcess } from '../support/serverProcess.ts'

const place = folderForTests()

const usage = expect.stringContaining('flashbell serve [--port N] [--data DIR]')

describe('flashbell', () => {
  test.each([['help'], ['--help'], ['-h'], ['serve', '--help']])(
    '%s shows how it is used',
    async (...args) => {
      expect(await ran(args)).toEqual({ code: 0, out: usage, err: '' })
    },
  )

  test('--version says its version', async () => {
    expect(await ran(['--version'])).toEqual({ code: 0, out: `${packageJson.version}\n`, err: '' })
  })

  test.each([
    [[], 'No command was given.'],
    [['paint'], 'There is no command paint.'],
    [['serve', '--colour', 'blue'], "Unknown option '--colour'"],
    [['serve', 'now'], 'now is one word too many.'],
    [['calc'], 'calc wants the name of a calculation.'],
    [['calc', 'film', 'more'], 'more is one word too many.'],
    [['rehearse'], 'rehearse wants the name of a file.'],
    [['serve', '--port', '65536'], 'Use a whole number from 0 to 65535'],
    [['serve', '--port', 'x'], 'Use a whole number from 0 to 65535'],
  ])(
    '%j is a wrong use: a sentence and the usage on standard error, exit 2',
    async (args, said) => {
      const { code, out, err } = await ran(args)
      expect({ code, out }).toEqual({ code: 2, out: '' })
      expect(err).toContain(said)
      expect(err).toEqual(usage)
    },
  )
})

describe('flashbell calc', () => {
  test('reads JSON from standard input and writes JSON to standard output', async () => {
    const stdin = JSON.stringify({ kind: 'notAfter', points: [{ atC: 20, minutes: 60 }], atC: 30 })
    expect(await ran(['calc', 'interval'], { stdin })).toEqual({
      code: 0,
      out: '{"minutes":30}\n',
      err: '',
    })
  })

  test.each([
    ['pour', '{"ratio":"4:x","by":"volume","totalMl":100}', 'ratio', 'ratio'],
    ['pour', 'four to one', 'body', 'json'],
    ['pour', '', 'body', 'json'],
    ['pours', '{}', 'name', 'oneOf'],
  ])('%s refuses %s with an error on standard error, exit 2', async (name, stdin, field, rule) => {
    const { code, out, err } = await ran(['calc', name], { stdin })
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(JSON.parse(err)).toEqual({
      error: {
        code: rule,
        field,
        params: expect.any(Object),
        message: expect.stringContaining(' Use '),
      },
    })
  })

  test('names every wrong field at once, the first of them by itself', async () => {
    const stdin = '{"ratio":"2:1","by":"sight","totalMl":0}'
    const { code, out, err } = await ran(['calc', 'pour'], { stdin })
    expect({ code, out }).toEqual({ code: 2, out: '' })
    const by = {
      code: 'oneOf',
      field: 'by',
      params: { words: ['volume', 'mass'], given: '"sight"' },
      message: 'by: "sight" won\'t work. Use one of volume, mass.',
    }
    const totalMl = {
      code: 'number',
      field: 'totalMl',
      params: { min: 0.1, max: 100_000, unit: 'mL', given: '0' },
      message: "totalMl: 0 won't work. Use a number from 0.1 to 100000 mL.",
    }
    expect(JSON.parse(err)).toEqual({ error: by, errors: [by, totalMl] })
  })
})

describe('flashbell rehearse', () => {
  const rehearse = (content: string) => {
    const file = join(place.folder, 'day.json')
    writeFileSync(file, content)
    return ran(['rehearse', file])
  }

  test('writes a line for each command and the state, and ends with 0 also when some were refused', async () => {
    const list = [
      { atMin: 0, type: 'OpenJob', data: { job: 'JJJJ2222', title: 'Delivery van' } },
      { atMin: 1, type: 'OpenJob', data: { job: 'JJJJ2222', title: 'Delivery van' } },
    ]
    const { code, out, err } = await rehearse(JSON.stringify(list))
    expect({ code, err }).toEqual({ code: 0, err: '' })
    const lines = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line))
    expect(lines).toMatchObject([
      { atMin: 0, type: 'OpenJob', ok: true },
      { atMin: 1, type: 'OpenJob', ok: false, refusal: { code: 'idTaken' } },
      { state: { head: 1, things: { job: { JJJJ2222: { value: 'open' } } } } },
    ])
  })

  test('writes a long day to its end, also through a pipe', async () => {
    const list = Array.from({ length: 3_000 }, (_, i) => ({
      atMin: i * 11,
      type: 'ReadClimate',
      data: { zone: 'booth', airC: 20, rh: 0.5 },
    }))
    const { out } = await rehearse(JSON.stringify(list))
    const lines = out.trimEnd().split('\n')
    expect(lines.length).toBe(3_001)
    expect(JSON.parse(lines.at(-1) ?? '')).toMatchObject({ state: { head: 3_000 } })
  })

  test.each([
    ['no JSON', 'a day'],
    ['no list', '{"atMin":0}'],
  ])('refuses a file that holds %s with a sentence, exit 2', async (_what, content) => {
    expect(await rehearse(content)).toEqual({
      code: 2,
      out: '',
      err: expect.stringMatching(/^The file .* holds no JSON list\. Use .*\.\n$/),
    })
  })

  test('refuses a file that is not there with a sentence, exit 2', async () => {
    expect(await ran(['rehearse', join(place.folder, 'nowhere.json')])).toEqual({
      code: 2,
      out: '',
      err: expect.stringMatching(/^The file .*nowhere\.json cannot be read\..*\n$/),
    })
  })
})

describe('flashbell verify', () => {
  test('refuses a folder without a log, and makes none there', async () => {
    for (let i = 0; i < 2; i += 1)
      expect(await ran(['verify', '--data', place.folder])).toEqual({
        code: 1,
        out: '',
        err: `There is no log in ${place.folder}. Name its folder with --data.\n`,
      })
  })

  test('refuses a file that is not a log with a sentence', async () => {
    writeFileSync(logFileIn(place.folder), 'two coats of clear\n'.repeat(100))
    const { code, out, err } = await ran(['verify'], { env: { FLASHBELL_DATA: place.folder } })
    expect({ code, out }).toEqual({ code: 1, out: '' })
    expect(err).toMatch(/^.*is damaged, or it is not a log\. .*\n$/)
  })
})

describe('flashbell serve', () => {
  test('refuses a folder that another server uses, and takes it when that one was killed', async () => {
    const first = await serverProcess(place.folder)
    const second = await ran(['serve', '--port', '0', '--data', place.folder])
    expect(second).toEqual({
      code: 1,
      out: '',
      err: `Another server is using ${place.folder}. Stop it first, or choose another folder with --data.\n`,
    })
    expect((await get(`${first.url}/healthz`)).status).toBe(200)
    await first.stop('SIGKILL')
    const third = await serverProcess(place.folder)
    expect(await third.stop('SIGTERM')).toEqual({ code: 0, err: '' })
  })

  test('refuses a port that is taken, also by a server of its own kind', async () => {
    const first = await serverProcess(place.folder)
    const { port } = new URL(first.url)
    const other = dataFolder()
    expect(await ran(['serve', '--data', other.folder], { env: { FLASHBELL_PORT: port } })).toEqual(
      {
        code: 1,
        out: '',
        err: `Port ${port} of 127.0.0.1 is taken. Stop what uses it, or choose another with --port.\n`,
      },
    )
    other.remove()
    await first.stop('SIGTERM')
  })

  test('answers what it has taken before it stops, and keeps a snapshot of it', async () => {
    const { url, stop } = await serverProcess(place.folder)
    await post(`${url}/api/commands`, vanInWork)
    const guns = Array.from({ length: 60 }, (_, i) =>
      post(`${url}/api/commands`, command(`g${i}`, 'SaveGun', { gun: `gun-${i}` })).catch(
        () => null,
      ),
    )
    await guns[0]
    expect(await stop('SIGTERM')).toEqual({ code: 0, err: '' })
    const answers = (await Promise.all(guns)).filter((answer) => answer !== null)
    const taken = answers.filter(({ status }) => status === 200)
    const turnedAway = answers.filter(({ status }) => status === 503)
    expect(taken.length + turnedAway.length).toBe(answers.length)
    for (const { body } of turnedAway) expect(body.error.code).toBe('stopping')

    const store = sqliteStore(logFileIn(place.folder))
    const own = (await store.getMeta('shop')) ?? ''
    const { position } = await store.head(own)
    expect(position).toBeGreaterThanOrEqual(8 + taken.length)
    for (const { body } of taken)
      expect(await store.byCommand(own, body.entries[0].command)).toEqual(body.entries)
    expect((await readSnapshot(store, own))?.head).toBe(position)
    await store.close()
  })
})
