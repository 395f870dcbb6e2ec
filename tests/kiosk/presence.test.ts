import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import type { LinkState } from '../../kiosk/commands/link.ts'
import { sayPresence } from '../../kiosk/device/presence.ts'

/** What a kiosk says of itself to the server, over a network that takes its time. */

test('what it says arrives in order, the last of it last, and once more after a while', async () => {
  const said: boolean[] = []
  const answers: (() => void)[] = []
  const isHeard = signal(false)
  const link = signal<LinkState>('live')
  let again = () => {}
  sayPresence({
    fetch: (_url, init) => {
      said.push(JSON.parse(String(init?.body)).sounds)
      return new Promise((done) => answers.push(() => done(new Response(null, { status: 204 }))))
    },
    device: Promise.resolve('kiosk-1'),
    ...{ isHeard, link, zone: () => null },
    every: (_ms, run) => {
      again = run
    },
  })
  const answered = async () => {
    answers.shift()?.()
    await new Promise((done) => setTimeout(done))
  }
  await answered()
  // Nothing overtakes the one on its way, and what changed twice meanwhile is said as it is.
  await expect.poll(() => said).toEqual([false])
  isHeard.value = true
  isHeard.value = false
  isHeard.value = true
  await answered()
  await expect.poll(() => said.at(-1)).toBe(true)
  expect(said.length).toBeLessThanOrEqual(3)
  await answered()
  again()
  await expect.poll(() => said.at(-1)).toBe(true)
})
