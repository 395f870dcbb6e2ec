import { expect, test } from 'vitest'
import { MINUTE, openTestShop } from '../support/serverShop.ts'

/** Whether anybody would hear a bell: kiosks say it of themselves, and the server to all of them. */

test('kiosks are counted with their sound, until they are silent for long', async () => {
  const { post, get, clock } = await openTestShop()
  const say = (device: string, sounds: boolean) => post('/api/kiosks', { device, sounds })
  const standing = async () => ((await get('/api/state')).body as { kiosks: object }).kiosks
  expect(await standing()).toEqual({ open: 0, sounding: 0 })
  expect(await say('wall', true)).toEqual({ status: 200, body: { open: 1, sounding: 1 } })
  await say('bench', false)
  expect(await standing()).toEqual({ open: 2, sounding: 1 })
  // A browser took the sound away: the same kiosk, not another one.
  await say('wall', false)
  expect(await standing()).toEqual({ open: 2, sounding: 0 })
  clock.advance(30_000)
  await say('wall', true)
  clock.advance(30_000)
  expect(await standing()).toEqual({ open: 1, sounding: 1 })
  clock.advance(MINUTE)
  expect(await standing()).toEqual({ open: 0, sounding: 0 })
})

test('which kiosks sound, where and since when: those that sound first', async () => {
  const { post, get, clock } = await openTestShop()
  const list = async () => ((await get('/api/watching')).body as { kiosks: object[] }).kiosks
  expect(await list()).toEqual([])
  const [first, second] = [clock.now(), clock.now() + 20_000]
  await post('/api/kiosks', { device: 'wall', sounds: false, zone: 'booth' })
  clock.advance(20_000)
  await post('/api/kiosks', { device: 'bench', sounds: true, zone: null })
  await post('/api/kiosks', { device: 'wall', sounds: false, zone: 'booth' })
  const bench = { device: 'bench', zone: null, sounds: true, sinceMs: second }
  expect(await list()).toEqual([
    bench,
    { device: 'wall', zone: 'booth', sounds: false, sinceMs: first },
  ])
  clock.advance(20_000)
  await post('/api/kiosks', { device: 'wall', sounds: true, zone: 'booth' })
  expect(await list()).toEqual([
    bench,
    { device: 'wall', zone: 'booth', sounds: true, sinceMs: second + 20_000 },
  ])
  // One that was away comes back: not counted from before.
  clock.advance(2 * MINUTE)
  await post('/api/kiosks', { device: 'wall', sounds: true, zone: 'booth' })
  expect(await list()).toMatchObject([{ device: 'wall', sinceMs: second + 20_000 + 2 * MINUTE }])
})

test('a thousand made-up kiosks do not make the list grow', async () => {
  const { post } = await openTestShop()
  let last: unknown
  for (let n = 0; n < 1_000; n += 1)
    last = (await post('/api/kiosks', { device: `d-${n}`, sounds: true })).body
  expect(last).toEqual({ open: 500, sounding: 500 })
})

test.each([
  [{ sounds: true }, 'device'],
  [{ device: 'wall', sounds: 'yes' }, 'sounds'],
  [{ device: 'no spaces, please', sounds: true }, 'device'],
])('%j is answered with the wrong field', async (body, field) => {
  const { post } = await openTestShop()
  expect(await post('/api/kiosks', body)).toMatchObject({ status: 400, body: { error: { field } } })
})
