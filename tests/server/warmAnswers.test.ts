import { expect, test } from 'vitest'
import { labelRoutes } from '../../server/routes/labels.ts'
import { askedOnce } from '../../server/warmAnswers.ts'
import { vanInWork } from '../support/serverCommands.ts'
import { openTestShop } from '../support/serverShop.ts'

test('what the first scan of a morning asks is asked once after the start, and changes nothing', async () => {
  const { app, shops } = await openTestShop({ more: [labelRoutes] })
  for (const one of vanInWork) await shops.ownWriter.handle(one)
  const before = shops.ownWriter.state()
  expect(Object.keys(before.things.cup)).not.toEqual([])
  expect(await askedOnce(app, before)).toBe(200)
  expect(shops.ownWriter.state()).toBe(before)
})

test('a shop without a cup is asked nothing', async () => {
  const { app, shops } = await openTestShop()
  expect(await askedOnce(app, shops.ownWriter.state())).toBe(null)
})
