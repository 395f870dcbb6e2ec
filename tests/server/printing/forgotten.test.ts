import { beforeAll, describe, expect, test } from 'vitest'
import { labels } from '../../../server/labelThread.ts'
import { asked, printsOf, shopWithPrinter, stepOf } from '../../support/printShop.ts'

// The tests' clock does not wait for libraries that are loaded with the first label.
beforeAll(async () => void (await labels.warm()))

describe('a printer', () => {
  test('that took it and no longer knows of it has printed it', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('getJobAttributes', 'jobUnknown')
    await asked(shop)
    await shop.wait(10_000)
    expect(stepOf(shop)).toBe('done')
    expect(printer.taken).toHaveLength(1)
    expect(printsOf(shop)).toHaveLength(1)
  })

  test('that was off with the label in it and has forgotten it is sent it again, once', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('getJobAttributes', 'away')
    await asked(shop)
    await shop.wait(5_000)
    expect(stepOf(shop)).toBe('printing')
    expect(shop.printing.standing()).toMatchObject({ printers: [{ trouble: { code: 'away' } }] })
    printer.answers('getJobAttributes', 'jobUnknown')
    await shop.wait(60_000)
    expect(stepOf(shop)).toBe('done')
    expect(printer.taken).toHaveLength(2)
    expect(printsOf(shop)).toHaveLength(1)
    expect(shop.printing.standing()).toBeNull()
  })

  test('that gave its number to another job while it was off is sent it again', async () => {
    const { printer, shop } = await shopWithPrinter()
    printer.answers('getJobAttributes', 'away')
    await asked(shop)
    await shop.wait(5_000)
    // Numbers begin at 1 again when some printers are switched on.
    printer.answers('getJobAttributes', 'jobOfAnother')
    await shop.wait(60_000)
    expect(printer.taken).toHaveLength(2)
    expect(stepOf(shop)).toBe('done')
  })
})
