import { expect, test } from 'vitest'
import type { JobsAnswer } from '../../machines/contract.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { jobSearchRoutes } from '../../server/routes/jobs.ts'
import { nextTurn } from '../../server/turn.ts'
import { countingStore } from '../support/countingStore.ts'
import { openTestShop } from '../support/serverShop.ts'

const open = (n: number) => ({
  id: `open-${n}`,
  type: 'OpenJob',
  data: { job: `VAN2222${'23456789AB'[n % 10]}`, title: `Delivery van ${n}` },
})
const note = (n: number) => ({
  id: `note-${n}`,
  type: 'AddNote',
  data: { job: 'VAN22222', text: `Word ${n}` },
})

test('what was recorded just before is found, and nothing was read from the log for it', async () => {
  const { asked, store } = countingStore(memoryStore())
  const { post, get, shops } = await openTestShop({ store, more: [jobSearchRoutes(null)] })
  expect((await get('/api/jobs')).body).toMatchObject({ jobs: [], behind: 0 })
  const reads = () => asked.filter((what) => what === 'read').length
  const before = reads()
  for (let n = 0; n < 10; n += 1) {
    expect(await post('/api/commands', open(n))).toMatchObject({ status: 200 })
    const { jobs, behind } = (await get('/api/jobs')).body as JobsAnswer
    expect([jobs.length, behind]).toEqual([n + 1, 0])
  }
  expect(reads()).toBe(before)
  await shops.close()
})

test('of hundreds that nobody asked about in between, all are taken in their order', async () => {
  const store = memoryStore()
  const more = () => [jobSearchRoutes(null)]
  const { post, get } = await openTestShop({ store, more: more() })
  for (let n = 0; n < 10; n += 1) await post('/api/commands', open(n))
  // More in one turn than are kept in memory: the oldest of them are read from the log.
  const list = (from: number) => Array.from({ length: 100 }, (_, n) => note(from + n))
  await Promise.all([0, 100, 200, 300, 400, 500].map((from) => post('/api/commands', list(from))))
  await post('/api/commands', { id: 'close', type: 'CloseJob', data: { job: 'VAN22223' } })
  const settled = async (ask: typeof get) => {
    for (;;) {
      const body = (await ask('/api/jobs')).body as JobsAnswer
      if (body.behind === 0) return body
      await nextTurn()
    }
  }
  const kept = await settled(get)
  const anew = await openTestShop({ store, more: more() })
  expect(kept).toEqual(await settled(anew.get))
  expect(kept.jobs.find(({ job }) => job === 'VAN22223')?.closedAt).toBeTypeOf('number')
})
