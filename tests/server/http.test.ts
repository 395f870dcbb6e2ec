import { describe, expect, test } from 'vitest'
import { type PackedStateAnswer, STATE_PATH, unpacked } from '../../machines/contract.ts'
import { FOLD_VERSION } from '../../machines/state.ts'
import type { Thing } from '../../machines/things.ts'
import { calculatorNames } from '../../machines/trade/registry.ts'
import { withoutSeals } from '../support/seals.ts'
import { vanInWork } from '../support/serverCommands.ts'
import { openTestShop, START_MS } from '../support/serverShop.ts'

const COMMANDS = '/api/commands'

describe('reading', () => {
  test('GET /api/state?as=packed gives a kiosk each entry once, without its seal', async () => {
    const { get, post, shops } = await openTestShop()
    await post(COMMANDS, vanInWork)
    const { state, head } = (await get(STATE_PATH)).body as PackedStateAnswer
    const whole = shops.ownWriter.state()
    const things = Object.values(whole.things).flatMap((ofKind) => Object.values(ofKind))
    const ids = new Set(things.flatMap((thing: Thing) => thing.entries.map(({ id }) => id)))
    expect(head).toBe(8)
    expect(state.entries.map(({ id }) => id).toSorted()).toEqual([...ids].toSorted())
    for (const entry of state.entries) {
      expect(entry).not.toHaveProperty('hash')
      expect(entry).not.toHaveProperty('commandDigest')
    }
    expect(unpacked(state)).toEqual(withoutSeals(whole))
  })

  test('GET /api/state gives open work, head, time, build and fold version', async () => {
    const { get, post, shops } = await openTestShop()
    await post(COMMANDS, vanInWork)
    const { headHash } = shops.ownWriter.state()
    expect(await get('/api/state')).toEqual({
      status: 200,
      body: {
        state: JSON.parse(JSON.stringify(shops.ownWriter.state())),
        head: 8,
        tail: `8:${headHash.slice(0, 8)}`,
        serverTime: START_MS,
        clock: { doubt: null, wallMs: START_MS, era: 0 },
        loss: null,
        disk: null,
        kiosks: { open: 0, sounding: 0 },
        backup: null,
        build: 'test-build',
        foldVersion: FOLD_VERSION,
        // Madrid in January is an hour ahead of UTC.
        clockSpan: {
          timeZone: 'Europe/Madrid',
          aheadMs: 3_600_000,
          fromMs: START_MS - 36 * 3_600_000,
          untilMs: START_MS + 48 * 3_600_000,
        },
      },
    })
  })

  test('GET /api/entries gives pages in order', async () => {
    const { get, post } = await openTestShop()
    await post(COMMANDS, vanInWork)
    const positions = async (query: string) => {
      const { status, body } = await get(`/api/entries${query}`)
      const { head, entries } = body as { head: number; entries: { position: number }[] }
      expect({ status, head }).toEqual({ status: 200, head: 8 })
      return entries.map(({ position }) => position)
    }
    expect(await positions('')).toEqual([1, 2, 3, 4, 5, 6, 7, 8])
    expect(await positions('?after=0&limit=2')).toEqual([1, 2])
    expect(await positions('?after=6')).toEqual([7, 8])
    expect(await positions('?after=8')).toEqual([])
    expect(await positions('?after=999999999')).toEqual([])
  })

  test.each([
    ['after', '-1'],
    ['after', 'x'],
    ['after', '1.5'],
    ['after', ''],
    ['after', '99999999999999999999'],
    ['limit', '0'],
    ['limit', '1001'],
    ['limit', '1e2'],
  ])('GET /api/entries answers 400 to %s=%s', async (field, given) => {
    const { get } = await openTestShop()
    expect(await get(`/api/entries?${field}=${given}`)).toMatchObject({
      status: 400,
      body: { error: { field, message: expect.stringContaining('Use a whole number') } },
    })
  })

  test('GET /healthz asks the store itself', async () => {
    const { get, store, reports } = await openTestShop()
    expect(await get('/healthz')).toEqual({
      status: 200,
      body: {
        ok: true,
        db: 'ok',
        build: 'test-build',
        foldVersion: FOLD_VERSION,
        head: 1,
        decides: true,
        clock: { code: 'ok' },
        log: { code: 'ok' },
        disk: { code: 'ok' },
        backup: { code: 'notSet', message: expect.stringContaining('No backups are set') },
      },
    })
    await store.close()
    expect(await get('/healthz')).toMatchObject({ status: 503, body: { ok: false, db: 'failed' } })
    expect(await get('/api/entries')).toMatchObject({
      status: 503,
      body: { error: { code: 'unreadable', message: expect.stringContaining('log is closed') } },
    })
    expect(reports.length).toBe(2)
  })
})

describe('POST /api/calc/:name', () => {
  test('answers what was asked', async () => {
    const { post } = await openTestShop()
    const asked = { ratio: '4:1+10%', by: 'volume', totalMl: 550 }
    expect(await post('/api/calc/pour', asked)).toMatchObject({
      status: 200,
      body: { parts: [{ ml: 400 }, { ml: 100 }, { ml: 50 }], totalMl: 550 },
    })
  })

  test('answers 400 with the field, what was given and what is accepted', async () => {
    const { post } = await openTestShop()
    const error = {
      code: 'ratio',
      field: 'ratio',
      params: { given: '"4:x"' },
      message: expect.stringMatching(/^ratio: "4:x" won't work. Use 2:1/),
    }
    expect(await post('/api/calc/pour', { ratio: '4:x', by: 'volume', totalMl: 1 })).toEqual({
      status: 400,
      body: { error, errors: [error] },
    })
    expect(await post('/api/calc/pour', '{')).toMatchObject({
      status: 400,
      body: { error: { field: 'body' } },
    })
  })

  test.each(['pours', 'toString', '__proto__', 'a%2Fb'])(
    'answers 404 with the names to %s',
    async (name) => {
      const { post } = await openTestShop()
      expect(await post(`/api/calc/${name}`, {})).toMatchObject({
        status: 404,
        body: { error: { field: 'name' }, names: calculatorNames },
      })
    },
  )
})

describe('what is not there', () => {
  test.each(['/nowhere', '/api', '/api/states', '/api/commands/x', '/api/calc', '/%00', '/..%2f'])(
    '%s is 404, as JSON',
    async (path) => {
      const { get } = await openTestShop()
      expect(await get(path)).toMatchObject({ status: 404, body: { error: { code: 'notFound' } } })
    },
  )

  test.each([
    ['GET', '/api/commands', 'POST'],
    ['PUT', '/api/commands', 'POST'],
    ['OPTIONS', '/api/commands', 'POST'],
    ['GET', '/api/calc/pour', 'POST'],
    ['POST', '/api/state', 'GET, HEAD'],
    ['DELETE', '/api/entries', 'GET, HEAD'],
    ['POST', '/api/tail', 'GET, HEAD'],
    ['PATCH', '/healthz', 'GET, HEAD'],
  ])('%s %s is 405 and says that %s is answered', async (method, path, allow) => {
    const { app } = await openTestShop()
    const response = await app.request(path, { method })
    expect(response.status).toBe(405)
    expect(response.headers.get('Allow')).toBe(allow)
    expect(await response.json()).toEqual({
      error: {
        code: 'wrongMethod',
        params: { method, allow },
        message: `${method} won't work here. Use ${allow}.`,
      },
    })
  })

  test.each(['/api/state', '/api/entries', '/api/tail', '/healthz'])(
    'HEAD %s has the headers and no body',
    async (path) => {
      const { app, clock } = await openTestShop()
      const response = await app.request(path, { method: 'HEAD' })
      expect(response.status).toBe(200)
      expect(await response.text()).toBe('')
      expect(clock.timers).toBe(0)
    },
  )
})

describe('every answer', () => {
  test('carries the headers that keep a page to this server', async () => {
    const { app } = await openTestShop()
    for (const path of ['/api/state', '/nowhere', '/api/entries?after=x']) {
      const { headers } = await app.request(path)
      expect(headers.get('Content-Security-Policy')).toBe(
        "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' data: blob:; worker-src 'self'; connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
      )
      expect(headers.get('Permissions-Policy')).toBe('camera=(self), microphone=()')
      expect(headers.get('X-Content-Type-Options')).toBe('nosniff')
      expect(headers.get('Strict-Transport-Security')).toBeNull()
    }
    expect((await app.request('/api/state')).headers.get('Cache-Control')).toBe('no-store')
  })

  test("says nothing of the program when that fails: the reason goes to the server's own log", async () => {
    const secret = new Error('at /srv/secret.ts:12')
    const { get, reports } = await openTestShop({
      more: [
        (app) =>
          app.get('/api/broken', () => {
            throw secret
          }),
      ],
    })
    expect(await get('/api/broken')).toEqual({
      status: 500,
      body: {
        error: {
          code: 'fault',
          params: { isNothingRecorded: false },
          message: 'The server failed by a fault in its program. Report it.',
        },
      },
    })
    expect(reports).toEqual([secret])
  })

  test('comes from further routes too, where they are mounted', async () => {
    const { app } = await openTestShop({
      more: [(app, { build }) => app.get('/', (c) => c.html(`<p>${build}</p>`))],
    })
    const response = await app.request('/')
    expect(await response.text()).toBe('<p>test-build</p>')
    expect(response.headers.get('X-Frame-Options')).toBe('DENY')
    expect(response.headers.get('Cache-Control')).toBeNull()
  })
})
