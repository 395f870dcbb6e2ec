import { scanGrayBuffer } from '@undecaf/zbar-wasm'
import { describe, expect, test } from 'vitest'
import { encodePanelCode, encodeThingCode, readCode } from '../../labels/code.ts'
import { layoutCupLabel, layoutTag, STOCKS } from '../../labels/layout.ts'
import { gunTag, panelTag, personBadge, shelfTag } from '../../labels/panelTag.ts'
import { labelBitmap } from '../../labels/render.ts'
import { SHEETS } from '../../labels/sheetCode.ts'
import { layoutJobSheet } from '../../labels/sheets.ts'
import { check } from '../../machines/accept.ts'
import { labelSettingsSchema } from '../../machines/shop/settingsSchema.ts'
import { labelRoutes, openedByPhone } from '../../server/routes/labels.ts'
import { qrOf } from '../support/labelBoxes.ts'
import { greyOf } from '../support/labelImage.ts'
import { readAll, readGrey } from '../support/labelReader.ts'
import { CLEAR, MADRID, MIXED_AT_MS, paper } from '../support/labelSamples.ts'
import { saidWrong } from '../support/said.ts'
import { openTestShop } from '../support/serverShop.ts'

/** Codes that begin with the address of the kiosk, for a phone's own camera. */

const SITE = 'http://flashbell.lan:4600'
const BEFORE = 'HTTP://FLASHBELL.LAN:4600/S/'
const SHOP = 'K7F'
const PLACES = ([203, 300] as const).flatMap((dpi) =>
  Object.values(STOCKS).map((stock) => ({ stock, dpi, site: SITE })),
)
const DEVICE = { shopTag: SHOP, nowMs: MIXED_AT_MS }

describe('a label that names the kiosk’s address', () => {
  test('is read by two readers that we did not write, on every stock at both resolutions, and as before', async () => {
    const bare = layoutCupLabel(CLEAR, paper(203), MADRID).payload
    for (const on of PLACES) {
      const layout = layoutCupLabel(CLEAR, on, MADRID)
      expect(layout.payload).toBe(BEFORE + bare)
      const image = greyOf(labelBitmap(layout))
      expect(await readGrey(image)).toBe(BEFORE + bare)
      const found = await scanGrayBuffer(
        new Uint8Array(image.data).buffer,
        image.width,
        image.height,
      )
      expect(found.map((one) => one.decode())).toEqual([BEFORE + bare])
      expect(readCode(BEFORE + bare, DEVICE)).toEqual(readCode(bare, DEVICE))
      // Some twenty signs more are one version more: 33 modules a side.
      expect(qrOf(layout).modules).toBe(33)
      expect(qrOf(layout).moduleDots).toBeGreaterThanOrEqual(3)
    }
  })

  test('so do tags and the codes of a job sheet; a Data Matrix and bars name none', async () => {
    const of = { shopTag: SHOP, id: 'g-1', name: 'Clear gun' }
    const tags = [
      panelTag({ shopTag: SHOP, panel: 'R4TPDXYZ', name: 'Rear quarter', job: 'J7K3MABC' }, 'en'),
      personBadge(of),
      gunTag({ ...of, needleMm: 1.3 }, 'en'),
      shelfTag({ ...of, lot: 'B-22' }, 'en'),
    ]
    for (const on of PLACES)
      for (const tag of tags) {
        const text = await readGrey(greyOf(labelBitmap(layoutTag(tag, on))))
        expect(text).toBe(BEFORE + tag.payload)
        expect(readCode(text ?? '', DEVICE)).toEqual(readCode(tag.payload, DEVICE))
      }
    const job = {
      ...{ shopTag: SHOP, job: 'J7K3MABC', title: 'Delivery van, rear corner', colours: [] },
      panels: [{ panel: 'R4TPDXYZ', name: 'Rear quarter', route: ['base', 'clear'] }],
    }
    const codes = [
      encodeThingCode({ kind: 'job', shopTag: SHOP, id: job.job, lot: null }),
      encodePanelCode({ shopTag: SHOP, panel: 'R4TPDXYZ' }),
    ]
    for (const stock of Object.values(SHEETS))
      for (const [symbology, before] of [
        [undefined, BEFORE],
        ['datamatrix', ''],
        ['code128', ''],
      ] as const) {
        const on = { stock, dpi: 203 as const, site: SITE, ...(symbology ? { symbology } : {}) }
        const found: string[] = []
        for (const page of layoutJobSheet(job, on, 'en'))
          found.push(...(await readAll(greyOf(labelBitmap(page)))))
        for (const code of codes) expect(found).toContain(before + code)
        expect(found.some((text) => text.startsWith('K1-'))).toBe(true)
      }
    const matrix = { ...PLACES[0], ...paper(203), symbology: 'datamatrix' as const, site: SITE }
    expect(layoutCupLabel(CLEAR, matrix, MADRID).payload.startsWith('C1-')).toBe(true)
  })

  test('does without it where there is no room: a label without an address is better than none', () => {
    const long = 'https://a-very-long-name.of-a-shop.lan:1'
    expect(long).toHaveLength(40)
    const full = {
      ...CLEAR,
      ratio: '12:7:3.5:2.25:1+10%+12.5%',
      colourCode: 'WIDE WIDE WIDE W',
      hazard: { ...CLEAR.hazard, words: ['Flammable', 'Drowsiness', 'Eye irritation'] },
    }
    for (const on of PLACES) {
      const layout = layoutCupLabel(full, { ...on, site: long }, MADRID)
      expect(readCode(layout.payload, DEVICE)).toMatchObject({ kind: 'cup', cup: CLEAR.cup })
    }
  })

  test('is off until the shop says an address; what it says stands in what is drawn, and in what a phone opens', async () => {
    const shop = await openTestShop({ more: [labelRoutes, openedByPhone] })
    const send = (id: string, type: string, data: object) =>
      shop.post('/api/commands', { id, type, data })
    await send('c1', 'SaveGun', { gun: 'g-1', name: 'Clear gun' })
    const drawn = async () => {
      const answer = await shop.app.request('/api/labels/gun/g-1.svg')
      return await answer.text()
    }
    const before = await drawn()
    expect((await send('c2', 'ChangeSettings', { labels: { phoneAddress: SITE } })).status).toBe(
      200,
    )
    const withAddress = await drawn()
    expect(withAddress).not.toBe(before)
    const code = encodeThingCode({ kind: 'gun', shopTag: SHOP, id: 'g-1', lot: null })
    const opened = await shop.app.request(`/S/${code}`)
    expect(opened.headers.get('location')).toBe(`/#/scan/${code}`)
    // The whole of a shop's labels is said each time: without the address it is off again.
    await send('c3', 'ChangeSettings', { labels: {} })
    expect(await drawn()).toBe(before)
  })

  test.each([
    ['flashbell.lan'],
    ['http://flashbell.lan:4600/'],
    ['http://flashbell.lan/kiosk'],
    ['http://under_score.lan'],
    ['http://'],
    [`http://${'a'.repeat(34)}`],
  ])('%s is no address for it', (phoneAddress) => {
    const read = check(labelSettingsSchema, { phoneAddress })
    expect(read.ok ? '' : saidWrong(read.error).message).toMatch(
      /^phoneAddress: .* Use an address such as http:\/\/flashbell.lan:4600/,
    )
  })
})
