import { GrowingShop } from '../support/growingShop.ts'
import { note, say, title } from './figures.ts'
import { part, ratioAtMost } from './table.ts'

const DAYS = [21, 60, 365]
const HELD = ['server', 'kiosk', 'device'] as const
const rowOf = (held: (typeof HELD)[number]) => `what the ${held} holds on day 365` as const

const PROMISED = {
  [rowOf('server')]: ratioAtMost(1.5),
  [rowOf('kiosk')]: ratioAtMost(1.5),
  [rowOf('device')]: ratioAtMost(1.5),
} as const

/** What a shop holds after weeks and after a year, against what it holds on day 21. */
export const growth = part('growth', PROMISED, async (put) => {
  title('growth: a shop that works five days a week, some of its jobs never closed')
  const shop = await GrowingShop.open(1)
  let first: Awaited<ReturnType<typeof shop.size>> | null = null
  for (const day of DAYS) {
    while (shop.day < day) await shop.liveDay()
    const size = await shop.size()
    first ??= size
    note(`day ${day}`)
    say('entries in the log', size.entries, '')
    for (const held of HELD) {
      say(`${held}, as JSON`, size[held] / 1024, 'KiB')
      const limit = { what: `day ${DAYS[0]}`, value: first[held] / 1024 }
      put(rowOf(held), { ours: size[held] / 1024, unit: 'KiB', limit })
    }
  }
})
