import { expect, test } from 'vitest'
import { command, JOB } from '../support/serverCommands.ts'
import { openTestShop } from '../support/serverShop.ts'

/** A press that says how long it is goes past the routes: it is answered as one that does not. */

const COMMANDS = '/api/commands'
const openJob = command('a', 'OpenJob', { job: JOB, title: 'Delivery van, rear corner' })
const json = JSON.stringify

type Asked = {
  readonly body: string
  readonly headers?: Record<string, string>
  readonly url?: string
}

async function answered({ body, headers = {}, url = COMMANDS }: Asked, saysLength: boolean) {
  const { app, shops } = await openTestShop()
  const length = { 'Content-Length': String(Buffer.byteLength(body)) }
  const init = { method: 'POST', body, headers: { ...headers, ...(saysLength ? length : {}) } }
  const response = await app.request(url, init)
  const text = (await response.text()).replaceAll(shops.own, 'the shop')
  return {
    status: response.status,
    headers: Object.fromEntries(response.headers),
    // What is sealed differs from shop to shop.
    text: text.replace(/"[0-9a-f]{64}"/g, '"a hash"'),
  }
}

test.each<[string, number, Asked]>([
  ['a press', 200, { body: json(openJob) }],
  ['a list of presses', 200, { body: json([openJob, command('b', 'PauseJob', { job: JOB })]) }],
  [
    'too long a list',
    400,
    { body: json(Array.from({ length: 101 }, () => ({ ...openJob, protocol: 1 }))) },
  ],
  ['a press that is refused', 409, { body: json(command('b', 'PauseJob', { job: JOB })) }],
  ['a wrong field', 400, { body: json({ ...openJob, at: 'now' }) }],
  ['a wrong field, asked in Spanish', 400, { body: '{}', headers: { 'Accept-Language': 'es' } }],
  ['no JSON', 400, { body: '{"id":' }],
  ['nothing', 400, { body: '' }],
  ['a body above the limit', 413, { body: 'x'.repeat(1024 * 1024 + 1) }],
  [
    'a page of another origin',
    403,
    { body: json(openJob), headers: { Origin: 'http://elsewhere.example' } },
  ],
  [
    'a page that the browser calls cross-site',
    403,
    { body: json(openJob), headers: { 'Sec-Fetch-Site': 'cross-site' } },
  ],
  ['another name', 403, { body: json(openJob), url: `http://elsewhere.example${COMMANDS}` }],
  ['an address with a question', 200, { body: json(openJob), url: `${COMMANDS}?from=old` }],
  ['a path that only ends so', 404, { body: json(openJob), url: `/elsewhere${COMMANDS}` }],
])('%s', async (_what, status, asked) => {
  const direct = await answered(asked, true)
  expect(direct.status).toBe(status)
  expect(direct.headers).toMatchObject({
    'cache-control': 'no-store',
    'content-type': 'application/json',
    'content-security-policy': expect.stringContaining("default-src 'self'"),
    'x-content-type-options': 'nosniff',
  })
  expect(direct).toEqual(await answered(asked, false))
})

test('a body that breaks off is a fault, which is reported, and records nothing', async () => {
  for (const headers of [{ 'Content-Length': '100' }, {}] as Record<string, string>[]) {
    const { app, reports, shops } = await openTestShop()
    const broken = new Error('the line was cut')
    const body = new ReadableStream({ pull: (to) => to.error(broken) })
    const response = await app.request(COMMANDS, { method: 'POST', body, headers })
    expect(response.status).toBe(500)
    expect(await response.json()).toMatchObject({ error: { code: 'fault' } })
    expect(reports).toHaveLength(1)
    expect(shops.ownWriter.state().head).toBe(1)
  }
})

test('a name of our own that was asked for before makes no other one known', async () => {
  const { app } = await openTestShop()
  const statusOf = async (host: string) => (await app.request(`http://${host}/api/state`)).status
  expect(await statusOf('localhost:4600')).toBe(200)
  for (const host of ['localhost:46001', 'kiosk.localhost:4600', 'localhost'])
    expect(await statusOf(host)).toBe(200)
  for (const host of [
    'localhost.elsewhere.example:4600',
    'elsewhere.example',
    'localhost4600.example',
  ])
    expect(await statusOf(host)).not.toBe(200)
  expect(await statusOf('localhost:4600')).toBe(200)
})
