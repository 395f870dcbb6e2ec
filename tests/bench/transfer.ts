import { gzipSync } from 'node:zlib'
import { buildKiosk } from '../../kiosk/build.ts'
import { STATE_PATH } from '../../machines/contract.ts'
import { served } from '../../server/kioskServed.ts'
import { CUP, panelId } from '../browser/busyShop.ts'
import { firstWall } from '../support/firstWall.ts'
import { openJobs } from './busy.ts'
import { note, title } from './figures.ts'
import { oursAtMost, type Put, part } from './table.ts'

/** What a kiosk fetches before it can show the Wall: its files with the fonts, without WebAssembly, and the shop. */

/** The allowances, in thousands of bytes as networks count them. */
const FILES_KB = 135
const STATE_WIRE_KB = 60
const STATE_KB = 150
const KB = 1_000
const LANES = 40

const FILES = 'files of a first Wall with its fonts, brotli'
const WIRE = `the state at ${LANES} lanes, gzip`
const PARSED = `the state at ${LANES} lanes, parsed`

export const transfer = part(
  'transfer',
  {
    [FILES]: oursAtMost(FILES_KB),
    [WIRE]: oursAtMost(STATE_WIRE_KB),
    [PARSED]: oursAtMost(STATE_KB),
  },
  async (put) => {
    title('First transfer of the kiosk')
    const sizes = firstWall(await served(await buildKiosk()))
    const sum = (of: 'plain' | 'wire') => sizes.reduce((total, size) => total + size[of], 0) / KB
    const limit = { what: 'unpacked', value: sum('plain') }
    put(FILES, { ours: sum('wire'), unit: 'kB', limit })
    note(sizes.map(({ path, wire }) => `${path} ${(wire / KB).toFixed(1)}`).join(', '))
    await state(put)
  },
)

/** Two coats on each lane, and a reading of the air before each. */
async function state(put: Put<typeof WIRE | typeof PARSED>): Promise<void> {
  const site = await openJobs(LANES, {})
  for (let n = 0; n < 2 * LANES; n += 1) {
    await site.send('ReadClimate', { zone: 'booth', airC: 20 + (n % 3), rh: 0.5 })
    await site.send('FinishCoat', { panels: [panelId(n % LANES)], cup: CUP })
    site.clock.move(60_000)
  }
  const bytesOf = async (path: string) =>
    Buffer.from(await (await fetch(`${site.url}${path}`)).arrayBuffer())
  const [own, whole] = [await bytesOf(STATE_PATH), await bytesOf('/api/state')]
  await site.stop()
  const limit = (bytes: number) => ({
    what: 'each entry as often as it is held',
    value: bytes / KB,
  })
  const zipped = (body: Buffer) => gzipSync(body).byteLength
  put(WIRE, { ours: zipped(own) / KB, unit: 'kB', limit: limit(zipped(whole)) })
  put(PARSED, { ours: own.byteLength / KB, unit: 'kB', limit: limit(whole.byteLength) })
}
