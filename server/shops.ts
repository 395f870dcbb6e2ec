import { ID_ALPHABET } from '../machines/accept.ts'
import { PROTOCOL } from '../machines/contract.ts'
import { openWriter, type Writer, type WriterDeps } from './handle.ts'
import { checkUpcasts } from './reading.ts'

/** The shops that a server serves: one writer each. */
export type Shops = {
  /** The id of the shop that this server was set up for. */
  readonly own: string
  /**
   * The writer of a shop, opened when it is first asked for.
   * @throws LogError where its log cannot be read
   */
  readonly writer: (shop: string) => Promise<Writer>
  /** The writer of the own shop. */
  readonly ownWriter: Writer
  /** Closes every writer; the store stays open. */
  readonly close: () => Promise<void>
}

export type ShopsDeps = WriterDeps & {
  /** The server's IANA time zone: what clocks show until the shop sets its own. Only a new shop asks: the engine's tables take 5 ms. */
  readonly timeZone: () => string
}

/**
 * Opens the store's own shop; at the first start makes its random id and records the time zone.
 * @throws LogError where the log cannot be read or written
 */
export async function openShops(deps: ShopsDeps): Promise<Shops> {
  checkUpcasts()
  const own = await ownShop(deps)
  const writers = new Map<string, Promise<Writer>>()
  const writer = (shop: string): Promise<Writer> => {
    const open = writers.get(shop) ?? openWriter(shop, deps)
    writers.set(shop, open)
    return open
  }
  const ownWriter = await writer(own)
  if (ownWriter.state().head === 0) await recordTimeZone(ownWriter, deps.timeZone())
  return {
    own,
    writer,
    ownWriter,
    async close() {
      await Promise.all([...writers.values()].map(async (open) => (await open).close()))
    },
  }
}

async function ownShop({ store }: ShopsDeps): Promise<string> {
  const known = await store.getMeta('shop')
  if (known !== null) return known
  const { customAlphabet } = await import('nanoid')
  const shop = customAlphabet(ID_ALPHABET, 8)()
  await store.putMeta('shop', shop)
  return shop
}

async function recordTimeZone(writer: Writer, timeZone: string): Promise<void> {
  const set = (zone: string) =>
    writer.handle({
      id: 'first-start',
      protocol: PROTOCOL,
      type: 'ChangeSettings',
      source: 'first start',
      data: { timeZone: zone },
    })
  const answer = await set(timeZone)
  // A computer may be set to a zone that its own tables do not have.
  const last = answer.status === 400 ? await set('UTC') : answer
  if (last.status !== 200)
    throw new Error(`The first entry could not be recorded: ${JSON.stringify(last.body)}`)
}
