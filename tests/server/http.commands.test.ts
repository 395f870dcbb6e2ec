import { describe, expect, test } from 'vitest'
import { memoryStore } from '../../server/log/memory.ts'
import { failingStore } from '../support/logStores.ts'
import { command, JOB } from '../support/serverCommands.ts'
import { openTestShop, START_MS, type TestShop } from '../support/serverShop.ts'

const openJob = (id: string, job = JOB) =>
  command(id, 'OpenJob', { job, title: 'Delivery van, rear corner' })
const COMMANDS = '/api/commands'

/** The end of a log, to see that nothing was added. */
const headOf = async ({ store, shops }: TestShop) => (await store.head(shops.own)).position

describe('POST /api/commands', () => {
  test('answers 200 with the position and the entries', async () => {
    const { post, shops } = await openTestShop()
    expect(await post(COMMANDS, openJob('a'))).toEqual({
      status: 200,
      body: {
        position: 2,
        entries: [
          expect.objectContaining({
            shop: shops.own,
            position: 2,
            id: 'a.0',
            type: 'JobOpened',
            job: JOB,
            at: START_MS,
            enteredAt: START_MS,
            recordedAt: START_MS,
            device: null,
            by: null,
            seq: 2,
            commandDigest: expect.stringMatching(/^[0-9a-f]{64}$/),
            hash: expect.stringMatching(/^[0-9a-f]{64}$/),
          }),
        ],
      },
    })
  })

  test('answers 200 to a press that was kept while its cup is not known, and names that cup, also a second time', async () => {
    const { post } = await openTestShop()
    const cup = 'CCCC2222'
    const late = { at: START_MS - 60_000, enteredAt: START_MS - 60_000 }
    const load = { ...command('a', 'LoadGun', { gun: 'gun-1', cup }), ...late }
    const first = await post(COMMANDS, load)
    expect(first).toMatchObject({ status: 200, body: { position: 2, waiting: [cup] } })
    expect(await post(COMMANDS, load)).toEqual(first)
  })

  test('answers 409 with a refusal that says why, by what figures, and whether it can be overridden', async () => {
    const shop = await openTestShop()
    await shop.post(COMMANDS, openJob('a'))
    const params = { what: 'job', limit: null, value: JOB }
    expect(await shop.post(COMMANDS, openJob('b'))).toEqual({
      status: 409,
      body: {
        refusal: {
          code: 'idTaken',
          params,
          message: `There is already a job ${JOB}. Use a new id.`,
          also: [],
          overridable: false,
          problems: [{ code: 'idTaken', params }],
        },
      },
    })
    expect(await headOf(shop)).toBe(2)
  })

  test('answers an array one by one and in order, each decided alone', async () => {
    const shop = await openTestShop()
    const pause = command('p', 'PauseJob', { job: JOB })
    const { status, body } = await shop.post(COMMANDS, [
      pause,
      openJob('a'),
      { id: 'b', type: 'PaintItBlue', data: {} },
      openJob('c'),
      pause,
      'nothing',
      openJob('a'),
    ])
    expect(status).toBe(200)
    expect(body).toMatchObject([
      { status: 409, body: { refusal: { code: 'unknownThing' } } },
      { status: 200, body: { position: 2, entries: [{ id: 'a.0' }] } },
      { status: 400, body: { error: { field: 'type' } } },
      { status: 409, body: { refusal: { code: 'idTaken' } } },
      { status: 200, body: { position: 3, entries: [{ id: 'p.0' }] } },
      { status: 400, body: { error: { message: expect.stringContaining('an object') } } },
      { status: 200, body: { position: 2, entries: [{ id: 'a.0' }] } },
    ])
    expect(await shop.post(COMMANDS, [])).toEqual({ status: 200, body: [] })
    expect(await headOf(shop)).toBe(3)
  })

  const deep = (depth: number) => '['.repeat(depth) + ']'.repeat(depth)
  test.each([
    ['empty', '', 'json', 'the body is missing. Use JSON.'],
    ['no JSON', 'two coats of clear', 'json', 'two coats of clear'],
    ['half of it', '{"id":"a","type":"OpenJob"', 'json', 'OpenJob'],
    ['a number that JSON has not', '{"id":NaN}', 'json', 'NaN'],
    [
      'deep beyond sense',
      deep(200_000),
      'depth',
      "[... won't work. Use lists and objects at most 64",
    ],
  ])('answers 400 to a body that is %s', async (_what, body, code, said) => {
    const shop = await openTestShop()
    const params = expect.any(Object)
    const error = { code, field: 'body', params, message: expect.stringContaining(said) }
    expect(await shop.post(COMMANDS, body)).toEqual({
      status: 400,
      body: { error, errors: [error] },
    })
    expect(await headOf(shop)).toBe(1)
  })

  test('answers 400 to bytes that are not UTF-8, instead of storing what they might mean', async () => {
    const shop = await openTestShop()
    const text = JSON.stringify({ ...openJob('a'), reason: '?' })
    const body = new TextEncoder().encode(text)
    body[body.lastIndexOf('?'.charCodeAt(0))] = 0xe9
    const response = await shop.app.request(COMMANDS, { method: 'POST', body })
    expect(response.status).toBe(400)
    expect(await response.json()).toMatchObject({ error: { code: 'utf8', field: 'body' } })
    expect(await headOf(shop)).toBe(1)
  })

  test('answers 413 to a body above 1 MiB, whether or not it says so beforehand', async () => {
    const shop = await openTestShop()
    const large = JSON.stringify({ ...openJob('a'), reason: 'x'.repeat(1024 * 1024) })
    const said = { 'Content-Length': String(large.length) }
    const stream = () => new Response(large).body
    for (const init of [{ body: large, headers: said }, { body: stream() }]) {
      const response = await shop.app.request(COMMANDS, { method: 'POST', ...init })
      expect(response.status).toBe(413)
      const error = {
        code: 'bodySize',
        field: 'body',
        params: { bytes: 1024 * 1024 },
        message: 'the body is too large. Use at most 1 MiB (1048576 bytes).',
      }
      expect(await response.json()).toEqual({ error, errors: [error] })
    }
    const fits = JSON.stringify({ ...openJob('a'), reason: 'x'.repeat(1024 * 1024 - 200) })
    expect((await shop.post(COMMANDS, fits)).status).toBe(400)
    expect(await headOf(shop)).toBe(1)
  })

  test('answers 503 when the entry could not be made durable', async () => {
    const { store, failNextAppend } = failingStore(memoryStore())
    const shop = await openTestShop({ store })
    failNextAppend()
    expect(await shop.post(COMMANDS, openJob('a'))).toEqual({
      status: 503,
      body: {
        error: {
          code: 'notStored',
          params: { reason: 'full' },
          message: expect.stringMatching(
            /^Nothing was recorded; send it again\. .*The disk is full\./,
          ),
        },
      },
    })
    failNextAppend()
    expect(await shop.post(COMMANDS, [openJob('a')])).toMatchObject({
      status: 200,
      body: [{ status: 503, body: { error: { code: 'notStored' } } }],
    })
    expect((await shop.post(COMMANDS, openJob('a'))).status).toBe(200)
  })

  test('answers 503 while the server is stopping', async () => {
    const shop = await openTestShop()
    await shop.shops.close()
    expect(await shop.post(COMMANDS, openJob('a'))).toMatchObject({
      status: 503,
      body: { error: { code: 'stopping' } },
    })
    expect((await shop.get('/api/state')).status).toBe(200)
  })
})

describe('the words of an answer', () => {
  const asked = async (body: object, language?: string) => {
    const { app, post } = await openTestShop()
    await post(COMMANDS, openJob('a'))
    const headers = language === undefined ? {} : { 'Accept-Language': language }
    const init = { method: 'POST', body: JSON.stringify(body), headers }
    return (await app.request(COMMANDS, init)).json()
  }
  test('say in the asked language why the store kept nothing', async () => {
    const { store, failNextAppend } = failingStore(memoryStore())
    const { app } = await openTestShop({ store })
    failNextAppend()
    const headers = { 'Accept-Language': 'es' }
    const answer = await app.request(COMMANDS, {
      method: 'POST',
      body: JSON.stringify(openJob('a')),
      headers,
    })
    expect(await answer.json()).toMatchObject({
      error: {
        message: 'No se registró nada; envíelo otra vez. El disco está lleno. Libere espacio.',
      },
    })
  })

  const english = `There is already a job ${JOB}. Use a new id.`
  const spanish = `Ya existe un trabajo ${JOB}. Hace falta un identificador nuevo.`

  test.each([
    [undefined, english],
    ['en', english],
    ['es', spanish],
    ['es-MX', spanish],
    ['fr', english],
    ['fr, es;q=0.8, en;q=0.5', spanish],
    ['es;q=0.3, en;q=0.9', english],
    ['nothing;;of=sense', english],
  ])('to a client that accepts %s are: %s', async (language, message) => {
    const params = { what: 'job', limit: null, value: JOB }
    expect(await asked(openJob('b'), language)).toMatchObject({
      refusal: { code: 'idTaken', params, message },
    })
  })

  test('name every wrong field at once in the asked language, the first by itself', async () => {
    const data = { zone: 'booth', airC: 400, rh: 55, wind: 3 }
    const body = command('c', 'ReadClimate', data)
    const codes = [
      {
        code: 'number',
        field: 'data.airC',
        params: { min: -30, max: 120, unit: '°C', given: '400' },
      },
      { code: 'number', field: 'data.rh', params: { min: 0, max: 1, given: '55' } },
      { code: 'onlyFields', field: 'data.wind', params: { given: '3' } },
    ]
    for (const [language, says] of [
      ['en', /^data\.\w+: \d+ won't work\. Use /],
      ['es', /^data\.\w+: \d+ no sirve\. Use /],
    ] as const) {
      const errors = codes.map((one) => ({ ...one, message: expect.stringMatching(says) }))
      expect(await asked(body, language)).toMatchObject({ error: errors[0], errors })
    }
  })
})

describe('what may be posted by whom', () => {
  const send = async (headers: Record<string, string>, url: string = COMMANDS) => {
    const { app } = await openTestShop()
    const init = { method: 'POST', body: JSON.stringify(openJob('a')), headers }
    const response = await app.request(url, init)
    return { status: response.status, body: await response.json() }
  }
  const own = 'http://localhost'

  test.each([
    ['a page of another site', { Origin: 'https://elsewhere.example' }],
    ['a page of another port of this computer', { Origin: 'http://localhost:3000' }],
    ['a page without an origin', { Origin: 'null' }],
    ['a page that the browser calls cross-site', { 'Sec-Fetch-Site': 'cross-site' }],
    ['a page that the browser calls same-site only', { 'Sec-Fetch-Site': 'same-site' }],
    ['an own origin from a cross-site frame', { Origin: own, 'Sec-Fetch-Site': 'cross-site' }],
  ])('%s is refused with 403', async (_who, headers) => {
    expect(await send({ 'Content-Type': 'application/json', ...headers })).toMatchObject({
      status: 403,
      body: { error: { code: 'crossSite' } },
    })
    expect((await send(headers, '/api/calc/film')).status).toBe(403)
  })

  test.each([
    ['the kiosk', { Origin: own, 'Sec-Fetch-Site': 'same-origin' }],
    ['an old browser of the kiosk', { Origin: own }],
    ['a program', {}],
  ])('%s is answered', async (_who, headers) => {
    expect((await send(headers)).status).toBe(200)
  })

  test("a name that is not this computer's is refused, also for reading", async () => {
    const { app } = await openTestShop()
    for (const host of ['elsewhere.example', 'localhost.elsewhere.example', '127.0.0.1.example']) {
      const response = await app.request(`http://${host}:4600/api/state`)
      expect(response.status).toBe(403)
      expect(await response.json()).toMatchObject({ error: { code: 'unknownHost' } })
    }
    for (const host of ['localhost', '127.0.0.1', '[::1]', 'kiosk.localhost'])
      expect((await app.request(`http://${host}:4600/api/state`)).status).toBe(200)
  })
})
