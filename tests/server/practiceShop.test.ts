import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { freshFolder } from '../../server/practice/folder.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { get, post, serverProcess } from '../support/serverProcess.ts'
import { TailClient } from '../support/serverTail.ts'

/** The way from a shop to the practice shop and back, on a server in a process of its own. */

const place = folderForTests()

const FREE = { FLASHBELL_PRACTICE_PORT: '0' }
const jobsOf = async (url: string) =>
  Object.keys((await get(`${url}api/state`)).body.state.things.job)

test('a shop starts the practice shop once, beside it and apart from it, and ends it with itself', async () => {
  const { url, stop } = await serverProcess(place.folder, FREE)
  const folder = join(place.folder, 'practice')
  expect(existsSync(folder)).toBe(false)
  const asked = await Promise.all([1, 2].map(() => post(`${url}/api/practice`, '')))
  const practice: string = asked[0]?.body.url
  expect(asked.map(({ status, body }) => [status, body.url])).toEqual([
    [200, practice],
    [200, practice],
  ])
  expect(new URL(practice)).toMatchObject({ hostname: '127.0.0.1', protocol: 'http:' })
  expect(new URL(practice).origin).not.toBe(url)
  expect(await jobsOf(practice)).toEqual(['VANREAR2'])
  // Nothing invented comes into the own log.
  expect(await jobsOf(`${url}/`)).toEqual([])
  expect(readdirSync(folder)).toContain('practice.txt')
  // Its page knows how fast it runs and where the own shop is; the own shop's page says neither.
  const page = await (await fetch(practice)).text()
  expect(page).toContain('<meta name="speed" content="10">')
  expect(page).toContain(`<meta name="own-port" content="${new URL(url).port}">`)
  expect(await (await fetch(url)).text()).not.toContain('name="speed"')
  expect(() => freshFolder(folder)).toThrow('Another server is using')
  expect(await stop('SIGTERM')).toEqual({ code: 0, err: '' })
  await expect(fetch(practice)).rejects.toThrow()
})

test('the practice shop starts over at the same address; a real shop cannot', async () => {
  const { url, stop } = await serverProcess(place.folder, FREE)
  const practice: string = (await post(`${url}/api/practice`, '')).body.url
  const done = { id: 'p1', type: 'PauseJob', data: { job: 'VANREAR2' } }
  const { head } = (await get(`${practice}api/state`)).body
  expect((await post(`${practice}api/commands`, done)).status).toBe(200)
  const tail = await TailClient.open(`${practice}api/tail`)
  expect((await post(`${practice}api/practice/again`, '')).status).toBe(200)
  // A client that followed the old morning is disconnected, and finds the new one.
  while ((await tail.next()) !== null);
  expect((await get(`${practice}api/state`)).body.head).toBe(head)
  expect((await post(`${practice}api/commands`, done)).status).toBe(200)
  // Two presses at once are two mornings, one after the other.
  const twice = await Promise.all([1, 2].map(() => post(`${practice}api/practice/again`, '')))
  expect(twice.map(({ status }) => status)).toContain(200)
  expect((await get(`${practice}api/state`)).body.head).toBe(head)
  expect((await post(`${url}/api/practice/again`, '')).status).toBe(404)
  expect((await post(`${practice}api/practice`, '')).status).toBe(404)
  expect(await stop('SIGTERM')).toEqual({ code: 0, err: '' })
})

test('where the practice port is taken, or its folder another’s, a sentence says so', async () => {
  const taken = new URL((await serverProcess(join(place.folder, 'other'))).url).port
  const own = join(place.folder, 'own')
  const first = await serverProcess(own, { FLASHBELL_PRACTICE_PORT: taken })
  expect(await post(`${first.url}/api/practice`, '')).toMatchObject({
    status: 503,
    body: {
      error: {
        code: 'notStarted',
        params: { trouble: { code: 'portTaken' } },
        message: `The practice shop did not start. Port ${taken} of 127.0.0.1 is taken. Stop what uses it, or choose another with FLASHBELL_PRACTICE_PORT.`,
      },
    },
  })
  expect(existsSync(join(own, 'practice'))).toBe(false)
})
