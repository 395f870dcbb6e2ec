import { expect, test } from 'vitest'
import { openTestShop } from '../support/serverShop.ts'

const JOB = 'VANJAB22'
const openJob = { id: 'a', type: 'OpenJob', data: { job: JOB, title: 'Delivery van' } }

test('what is durable is answered 200, also when a follower of the shop throws', async () => {
  const { shops, post, reports } = await openTestShop()
  const heard: number[] = []
  const broken = new Error('this follower is broken')
  shops.ownWriter.follow(() => {
    throw broken
  })
  shops.ownWriter.follow((news) => {
    if (news.kind === 'committed') heard.push(...news.entries.map(({ position }) => position))
  })
  expect(await post('/api/commands', openJob)).toMatchObject({ status: 200, body: { position: 2 } })
  expect(reports).toEqual([broken])
  // The other followers still hear of it, and the next command is decided on it.
  expect(heard).toEqual([2])
  expect(shops.ownWriter.state().things.job[JOB]?.value).toBe('open')
  await shops.close()
  expect(reports).toEqual([broken, broken])
})
