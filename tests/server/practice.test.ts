import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { freshFolder } from '../../server/practice/folder.ts'
import { layOut, PRACTICE_SPEED, practiceClock } from '../../server/practice/practice.ts'
import { openShops } from '../../server/shops.ts'
import { dataFolder } from '../support/serverProcess.ts'
import { MINUTE, TestClock } from '../support/serverShop.ts'
import { madeContext } from '../support/things.ts'

async function practiceShop() {
  const real = new TestClock()
  const clock = practiceClock(real, PRACTICE_SPEED)
  const report = (error: unknown) => {
    throw error
  }
  const shops = await openShops({
    store: memoryStore(),
    clock,
    report,
    timeZone: () => 'Europe/Madrid',
  })
  await layOut(shops.ownWriter, clock)
  return { real, clock, writer: shops.ownWriter }
}

test('the practice shop is laid out: one lane rings within 30 seconds of ours, at ten times speed', async () => {
  const { real, clock, writer } = await practiceShop()
  const begun = clock.now()
  real.advance(30_000)
  expect(clock.now() - begun).toBe(300_000)
  const rung = deadlines(writer.state()).filter((d) => d.dueAt > begun && d.dueAt <= clock.now())
  expect(rung.map((d) => d.bell)).toContain('coatReady')
})

test('one panel refuses its next coat, and the cup of clear is near its pot life', async () => {
  const { clock, writer } = await practiceShop()
  const refused = await writer.handle({
    id: 'try',
    type: 'StartCoat',
    data: { panels: ['REARQTR2'], cup: 'CRC5M2XT', gun: 'gun-3' },
  })
  expect(refused).toMatchObject({ status: 409, body: { refusal: { code: 'flashNotOver' } } })
  const cup = madeContext(writer.state(), 'cup', 'CRC5M2XT')
  const leftMs = (cupEndsAt(writer.state(), cup) ?? 0) - clock.now()
  expect(leftMs).toBeGreaterThan(0)
  expect(leftMs).toBeLessThan(20 * MINUTE)
})

test('a practice shop that is in use is left as it is', async () => {
  const { clock, writer } = await practiceShop()
  const { head } = writer.state()
  await layOut(writer, clock)
  expect(writer.state().head).toBe(head)
})

test('the practice shop’s folder is replaced, but never one that holds anything else', () => {
  const { folder, remove } = dataFolder()
  writeFileSync(join(folder, 'flashbell.db'), 'a shop’s log')
  expect(() => freshFolder(folder)).toThrow('nothing was touched')
  expect(readFileSync(join(folder, 'flashbell.db'), 'utf8')).toBe('a shop’s log')
  const own = join(folder, 'practice')
  freshFolder(own)
  writeFileSync(join(own, 'flashbell.db'), 'practice')
  freshFolder(own)
  expect(readdirSync(own)).toEqual(['practice.txt'])
  remove()
})
