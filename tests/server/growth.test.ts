import { expect, test } from 'vitest'
import { GrowingShop, type Size } from '../support/growingShop.ts'
import { patience } from '../support/randomRuns.ts'

/** After three weeks a shop holds all that it holds at a time: open work, and jobs of the week before. */
const SETTLED_DAY = 21
const MOST = 1.5
const isLong = Boolean(process.env.FLASHBELL_LONG)

test('what server and kiosk hold stays as large while the log grows', {
  timeout: 2 * patience,
}, async () => {
  const shop = await GrowingShop.open(1)
  const sizeOn = async (day: number): Promise<Size> => {
    while (shop.day < day) await shop.liveDay()
    return await shop.size()
  }
  const settled = await sizeOn(SETTLED_DAY)
  for (const day of isLong ? [60, 365] : [60]) {
    const later = await sizeOn(day)
    expect(later.entries / settled.entries).toBeGreaterThan((0.9 * day) / SETTLED_DAY)
    for (const held of ['server', 'kiosk', 'device'] as const)
      expect(later[held] / settled[held], `${held} on day ${day}`).toBeLessThan(MOST)
  }
  // Nothing of this made the kiosk ask for the whole state again.
  expect(shop.asked).toBe(1)
})
