import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { Resvg } from '@resvg/resvg-js'
import { expect, test } from 'vitest'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import {
  encodeCommandCode,
  encodePanelCode,
  PRINTED_COMMANDS,
  readCode,
  shopTag,
} from '../../labels/code.ts'
import { layoutCodeTile } from '../../labels/codeTile.ts'
import { labelPng, labelSvg } from '../../labels/render.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { openTestShop } from '../support/serverShop.ts'

/** Printed codes and tags, read back by a barcode reader that we did not write (zxing-wasm). */

const wasm = readFileSync(
  createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'),
)
prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(wasm).buffer } })
const read = async (png: Uint8Array) => {
  const [found] = await readBarcodes(new Uint8Array(png), { formats: ['QRCode'] })
  return found?.isValid ? found.text : null
}
const drawn = (svg: string) =>
  new Resvg(svg, { fitTo: { mode: 'width', value: 600 } }).render().asPng()

test('every printed command code is read back from its tile', async () => {
  for (const name of PRINTED_COMMANDS) {
    const text = encodeCommandCode(name)
    expect(await read(labelPng(layoutCodeTile(text, 203))), name).toBe(text)
    expect(await read(drawn(labelSvg(layoutCodeTile(text, 300)))), name).toBe(text)
  }
})

test('the server draws a command’s code by its name, and says what names there are', async () => {
  const { app } = await openTestShop({ more: [labelRoutes] })
  const answer = await app.request('/api/labels/command/COATEND.svg')
  expect(answer.headers.get('content-type')).toBe('image/svg+xml')
  expect(await read(drawn(await answer.text()))).toBe(encodeCommandCode('COATEND'))
  for (const wrong of ['COATEND', 'DANCE.svg', 'COATEND.png', '.svg']) {
    const refused = await app.request(`/api/labels/command/${wrong}`)
    expect(refused.status, wrong).toBe(400)
    expect(JSON.stringify(await refused.json()), wrong).toContain('COATSTART')
  }
})

test('a panel’s tag names that panel of this shop', async () => {
  const { app, post, shops } = await openTestShop({ more: [labelRoutes] })
  const route = [{ stage: 'prep' }]
  await post('/api/commands', {
    id: 'c1',
    type: 'OpenJob',
    data: { job: 'VANREAR2', title: 'Delivery van' },
  })
  await post('/api/commands', {
    id: 'c2',
    type: 'AddPanel',
    data: { job: 'VANREAR2', panel: 'REARQTR2', name: 'Rear quarter', operation: 'repair', route },
  })
  const svg = await (await app.request('/api/labels/panel/REARQTR2.svg')).text()
  const text = await read(drawn(svg))
  const tag = shopTag(shops.ownWriter.shop)
  expect(text).toBe(encodePanelCode({ shopTag: tag, panel: 'REARQTR2' }))
  expect(readCode(text ?? '', { nowMs: 0, shopTag: tag })).toMatchObject({ panel: 'REARQTR2' })
  expect(svg).toContain('REAR QUARTER')
  expect((await app.request('/api/labels/panel/NEBDY222.svg')).status).toBe(404)
  expect((await app.request('/api/labels/panel/REARQTR2.gif')).status).toBe(400)
})
