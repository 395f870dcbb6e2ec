import { GrowingShop } from '../support/growingShop.ts'
import { note, say, title } from './figures.ts'

const DAYS = [21, 60, 365]

/** What a shop holds after weeks and after a year, against what it holds on day 21. */
export async function growth(): Promise<void> {
  title('growth: a shop that works five days a week, some of its jobs never closed')
  const shop = await GrowingShop.open(1)
  let first: Awaited<ReturnType<typeof shop.size>> | null = null
  for (const day of DAYS) {
    while (shop.day < day) await shop.liveDay()
    const size = await shop.size()
    first ??= size
    note(`day ${day}`)
    say('entries in the log', size.entries, '')
    for (const held of ['server', 'kiosk', 'device'] as const) {
      say(`${held}, as JSON`, size[held] / 1024, 'KiB')
      say(`${held}, of day ${DAYS[0]}`, size[held] / first[held], 'x', '(target below 1.5)')
    }
  }
}
