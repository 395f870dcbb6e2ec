import { X509Certificate } from 'node:crypto'
import { afterEach, describe, expect, test } from 'vitest'
import type { Printer } from '../../../machines/contract/printing.ts'
import { decodeIpp } from '../../../server/printing/ippMessage.ts'
import { netPost } from '../../../server/printing/netPost.ts'
import certificates from '../../reference/printer-certificates.json' with { type: 'json' }
import { recordedPrinter } from '../../support/ippAnswers.ts'
import { BENCH, openPrintShop, type PrintShop } from '../../support/printShop.ts'

/** Printers that speak TLS with a certificate of their own, over real sockets. */

type Name = 'one' | 'other' | 'over'
const fingerprintOf = (name: Name) => new X509Certificate(certificates[name].cert).fingerprint256
const ONE = fingerprintOf('one')

type TlsPrinter = { readonly address: string; readonly heard: readonly number[] }
const stops: (() => Promise<unknown>)[] = []
afterEach(async () => {
  for (const stop of stops.splice(0)) await stop()
})

function tlsPrinter(name: Name, port = 0): TlsPrinter & { readonly stop: () => Promise<void> } {
  const { post } = recordedPrinter()
  const heard: number[] = []
  const server = Bun.serve({
    port,
    tls: certificates[name],
    async fetch(request) {
      const body = new Uint8Array(await request.arrayBuffer())
      heard.push(decodeIpp(body).code)
      return new Response(new Uint8Array(await post('', body, 0, null)))
    },
  })
  const stop = async () => await server.stop(true)
  stops.push(stop)
  return { address: `ipps://localhost:${server.port}/ipp/print`, heard, stop }
}

async function shopHere(): Promise<PrintShop> {
  const shop = await openPrintShop(netPost)
  stops.push(() => shop.printing.stop())
  return shop
}
const ask = (shop: PrintShop, at: object) => shop.post('/api/printing/ask', at)

describe('a printer whose certificate nobody vouches for', () => {
  test('is told nothing until its fingerprint was compared; with it, it answers', async () => {
    const printer = tlsPrinter('one')
    const shop = await shopHere()
    const { status, body } = await ask(shop, { address: printer.address })
    expect(status).toBe(409)
    expect(body).toMatchObject({
      error: {
        ...{ code: 'unknownCertificate', params: { fingerprint: ONE, isOther: false } },
        message: expect.stringContaining(
          `${ONE}. Compare it with the one on the printer’s own page`,
        ),
      },
    })
    expect(printer.heard).toEqual([])
    expect(await ask(shop, { address: printer.address, fingerprint: ONE })).toMatchObject({
      status: 200,
      body: { trouble: null },
    })
    expect(printer.heard).toHaveLength(1)
  })

  test('stays the only one that is spoken to: another certificate at its address is said, and gets nothing', async () => {
    const printer = tlsPrinter('one')
    const shop = await shopHere()
    const bench: Printer = { ...BENCH, address: printer.address, fingerprint: ONE }
    await shop.setUp({ printers: [bench] })
    expect(shop.printing.standing()).toBeNull()
    await printer.stop()
    const thief = tlsPrinter('other', Number(new URL(printer.address).port))
    await shop.setUp({ printers: [bench] })
    expect(shop.printing.standing()?.printers[0]?.trouble).toEqual({
      code: 'unknownCertificate',
      params: { fingerprint: fingerprintOf('other'), isOther: true },
    })
    expect(thief.heard).toEqual([])
  })

  test('which has ended is said so, trusted or not', async () => {
    const printer = tlsPrinter('over')
    const shop = await shopHere()
    for (const given of [{}, { fingerprint: fingerprintOf('over') }])
      expect(await ask(shop, { address: printer.address, ...given })).toMatchObject({
        status: 409,
        body: {
          error: { code: 'badCertificate', message: expect.stringMatching(/expired.*ipp:\/\//) },
        },
      })
    expect(printer.heard).toEqual([])
  })

  test('a fingerprint that is none is refused, with what one is', async () => {
    const shop = await shopHere()
    const { status, body } = await ask(shop, { address: BENCH.address, fingerprint: 'AB:CD' })
    expect(status).toBe(400)
    expect(body).toMatchObject({
      error: { field: 'fingerprint', message: expect.stringContaining('32 pairs') },
    })
  })

  test('a printer that is off is away, not untrusted', async () => {
    const printer = tlsPrinter('one')
    await printer.stop()
    const shop = await shopHere()
    for (const given of [{}, { fingerprint: ONE }])
      expect(await ask(shop, { address: printer.address, ...given })).toMatchObject({
        status: 409,
        body: { error: { code: 'away' } },
      })
  })
})
