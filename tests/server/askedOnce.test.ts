import { expect, test } from 'vitest'
import { memoryStore } from '../../server/log/memory.ts'
import { countingStore } from '../support/countingStore.ts'
import { JOB, vanInWork } from '../support/serverCommands.ts'
import { openTestShop } from '../support/serverShop.ts'

test('a thing that is new is looked for in the log once by the command that makes it', async () => {
  const { asked, store } = countingStore(memoryStore())
  const shop = await openTestShop({ store })
  const counts: Record<string, number> = {}
  for (const one of vanInWork) {
    asked.length = 0
    const { status } = await shop.post('/api/commands', one)
    expect([one.type, status]).toEqual([one.type, 200])
    for (const what of asked) {
      const name = `${one.id} ${what}`
      counts[name] = (counts[name] ?? 0) + 1
    }
  }
  expect(Object.entries(counts).filter(([, times]) => times > 1)).toEqual([])
  // Jobs, panels and cups are looked for at all: an id may be one of years ago.
  expect(Object.keys(counts).some((name) => / job /.test(name))).toBe(true)
})

test('the id of a command that adds entries is looked up by the commit alone, of any other before its answer', async () => {
  const { asked, store } = countingStore(memoryStore())
  const shop = await openTestShop({ store })
  const lookedUp = async (id: string, data: object) => {
    asked.length = 0
    const answer = await shop.post('/api/commands', { id, type: 'AddNote', data })
    return { status: answer.status, ids: asked.filter((what) => what === `command ${id}`) }
  }
  for (const one of vanInWork) await shop.post('/api/commands', one)
  const note = { job: JOB, text: 'a run on the sill' }
  expect(await lookedUp('new', note)).toEqual({ status: 200, ids: [] })
  expect(await lookedUp('none', { job: 'JJJJ9999', text: 'x' })).toMatchObject({
    ids: ['command none'],
  })
  // The commit finds it, and it is decided again.
  expect(await lookedUp('new', note)).toEqual({ status: 200, ids: ['command new'] })
})
