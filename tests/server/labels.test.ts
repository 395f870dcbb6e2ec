import { describe, expect, test } from 'vitest'
import { encodeCupCode, readCode, shopTag } from '../../labels/code.ts'
import { codeOf } from '../../labels/cupLabel.ts'
import { cupLabelOf } from '../../labels/fromState.ts'
import { layoutCupLabel, STOCKS } from '../../labels/layout.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { textsOf } from '../support/labelBoxes.ts'
import { readPng } from '../support/labelReader.ts'
import { MADRID } from '../support/labelSamples.ts'
import { MINUTE, openTestShop, START_MS } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

const CUP = 'K7QDM2XV'
const STORED = 'BASE3W9K'

/** A shop with a cup of clear, mixed at the start in 30 °C, and a stored base. */
async function mixedShop() {
  const shop = await openTestShop({ more: [labelRoutes] })
  let count = 0
  const send = async (type: string, data: object) => {
    count += 1
    const answer = await shop.post('/api/commands', { id: `c${count}`, type, data })
    expect(answer.status, JSON.stringify(answer.body)).toBe(200)
  }
  await send('SaveSheet', { sheet: CLEAR })
  await send('SaveSheet', { sheet: BASE })
  await send('ReadClimate', { zone: 'bench', airC: 30, rh: 0.5 })
  await send('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 450, activator: 'standard' })
  await send('MixCup', { cup: STORED, sheet: BASE.sheet, totalMl: 300 })
  return { ...shop, send, label: () => cupLabelOf(shop.shops.ownWriter.state(), CUP) }
}

describe('the label of a cup', () => {
  test.each([203, 300])(
    'as a PNG at %i dpi is read back by a reader that we did not write',
    async (dpi) => {
      const { app, label, shops, clock } = await mixedShop()
      const response = await app.request(`/api/labels/cup/${CUP}.png?dpi=${dpi}`)
      expect(response.headers.get('content-type')).toBe('image/png')
      const text = await readPng(new Uint8Array(await response.arrayBuffer()))
      const said = label()
      if (!said || text === null) throw new Error('nothing was read')
      expect(text).toBe(encodeCupCode(codeOf(said)))
      const read = readCode(text, { nowMs: clock.now(), shopTag: shopTag(shops.own) })
      // Pot life halves per 10 °C warmer (UFGS-09971 3.7.1.3): 60 min at 20 °C are 30 at 30 °C.
      expect(read).toMatchObject({
        kind: 'cup',
        cup: CUP,
        ratio: '2:1',
        useByMs: START_MS + 30 * MINUTE,
      })
    },
  )

  test('drawn again says the same times until a new one is printed, and drawing records nothing', async () => {
    const { app, label, send, clock, shops } = await mixedShop()
    await send('PrintLabel', { cup: CUP })
    const { head } = shops.ownWriter.state()
    const first = await (await app.request(`/api/labels/cup/${CUP}.svg`)).text()
    clock.advance(5 * MINUTE)
    await send('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
    expect(await (await app.request(`/api/labels/cup/${CUP}.svg`)).text()).toBe(first)
    expect(shops.ownWriter.state().head).toBe(head + 1)
    await send('PrintLabel', { cup: CUP })
    // Nothing extends a cup: in cooler air the clock ends later, the first label's word still binds.
    expect(label()).toMatchObject({ copy: 1, useByMs: START_MS + 30 * MINUTE })
  })

  test('of cups poured together ends with the first of them, and names them', async () => {
    const { send, shops, clock } = await mixedShop()
    clock.advance(10 * MINUTE)
    await send('MixCup', {
      cup: 'BCDFGH23',
      sheet: CLEAR.sheet,
      totalMl: 200,
      activator: 'standard',
    })
    await send('PourCup', { cup: 'JKMNPQ45', from: [{ cup: CUP }, { cup: 'BCDFGH23', ml: 50 }] })
    expect(cupLabelOf(shops.ownWriter.state(), 'JKMNPQ45')).toMatchObject({
      parents: [CUP, 'BCDFGH23'],
      // Of the older one: mixed at the start, 30 min at 30 °C.
      useByMs: START_MS + 30 * MINUTE,
      ratio: '2:1',
    })
  })

  test('of a mix that was poured off its ratio says the ratio as mixed, in its code as well', async () => {
    const { app, send } = await mixedShop()
    const poured = { totalMl: 427, pouredG: [200, 238] }
    await send('MixCup', { cup: 'RATQ2345', sheet: CLEAR.sheet, activator: 'standard', ...poured })
    const png = await app.request('/api/labels/cup/RATQ2345.png?dpi=203')
    const text = await readPng(new Uint8Array(await png.arrayBuffer()))
    expect(text).toContain('-2X2.27-')
  })

  test('of a mix without pot life carries its keep-until', async () => {
    const { shops } = await mixedShop()
    expect(cupLabelOf(shops.ownWriter.state(), STORED)).toMatchObject({
      useByMs: null,
      keepUntilMs: START_MS + 30 * 24 * 60 * MINUTE,
      hazard: { signal: 'danger', isocyanate: false },
    })
  })

  test('of a mix of twelve parts is drawn, prints three of them and reads back', async () => {
    const { app, send, get, shops } = await mixedShop()
    const components = Array.from({ length: 12 }, (_, n) => ({
      name: `Part ${n}`,
      role: n === 0 ? 'base' : 'additive',
      parts: n + 1,
    }))
    await send('SaveSheet', { sheet: { ...BASE, sheet: 'twelve', components } })
    await send('MixCup', { cup: 'PART2345', sheet: 'twelve', totalMl: 300 })
    const png = await app.request('/api/labels/cup/PART2345.png?dpi=203')
    expect(png.status).toBe(200)
    const text = await readPng(new Uint8Array(await png.arrayBuffer()))
    expect(text).toContain('-BA1-0-')
    const said = cupLabelOf(shops.ownWriter.state(), 'PART2345')
    if (!said) throw new Error('no label')
    const printed = layoutCupLabel(said, { stock: STOCKS['57x32'], dpi: 203 }, MADRID)
    const texts = textsOf(printed).map((item) => item.text)
    expect(texts).toEqual(expect.arrayContaining(['1:2:3', '+ 9 MORE VOL']))
    expect(await get(`/api/scan/${encodeURIComponent(text ?? '')}`)).toMatchObject({
      status: 200,
      body: { kind: 'cup', label: { ratio: null } },
    })
  })

  test('of no cup, of no such form or at no such resolution is refused with a sentence', async () => {
    const { get } = await mixedShop()
    expect(await get('/api/labels/cup/ZZZZ2222.svg')).toMatchObject({ status: 404 })
    expect(await get(`/api/labels/cup/${CUP}.gif`)).toMatchObject({
      status: 400,
      body: { error: { field: 'name' } },
    })
    expect(await get(`/api/labels/cup/${CUP}.png?dpi=72`)).toMatchObject({
      status: 400,
      body: { error: { field: 'dpi', message: expect.stringContaining('203, 300') } },
    })
  })
})

describe('what a label says', () => {
  test('a scanned cup is answered with its remaining pot life; the earlier of label and log binds', async () => {
    const { get, label, send, clock } = await mixedShop()
    await send('PrintLabel', { cup: CUP })
    const said = label()
    if (!said) throw new Error('no label')
    clock.advance(10 * MINUTE)
    const code = encodeCupCode(codeOf(said))
    expect(await get(`/api/scan/${encodeURIComponent(code)}`)).toMatchObject({
      status: 200,
      body: { kind: 'cup', is: 'cup', id: CUP, leftMs: 20 * MINUTE, label: { kind: 'cup' } },
    })
    const earlier = encodeCupCode({ ...codeOf(said), useByMs: START_MS + 15 * MINUTE })
    expect(await get(`/api/scan/${earlier}`)).toMatchObject({ body: { leftMs: 5 * MINUTE } })
  })

  test('a unique beginning of an id will do, in any case', async () => {
    const { get } = await mixedShop()
    expect(await get('/api/scan/k7')).toMatchObject({ status: 200, body: { kind: 'cup', id: CUP } })
  })

  test.each([
    ['ZZZZ2222', 404, 'There is no cup ZZZZ2222'],
    ['https:%2F%2Fexample.org', 400, 'not one of our labels'],
    ['K7QDM2XO', 400, 'Ids have no O'],
  ])('%s is answered with a sentence, and nothing is recorded', async (text, status, says) => {
    const { get, shops } = await mixedShop()
    const { head } = shops.ownWriter.state()
    const answer = await get(`/api/scan/${text}`)
    expect(answer).toMatchObject({
      status,
      body: { error: { message: expect.stringContaining(says) } },
    })
    expect(shops.ownWriter.state().head).toBe(head)
  })

  test('a wrong checksum, another shop and the future are refused', async () => {
    const { get, label } = await mixedShop()
    const said = label()
    if (!said) throw new Error('no label')
    const code = encodeCupCode(codeOf(said))
    const wrong = `${code.slice(0, -1)}${code.endsWith('0') ? '1' : '0'}`
    expect(await get(`/api/scan/${wrong}`)).toMatchObject({
      status: 400,
      body: { code: 'checksum' },
    })
    const other = encodeCupCode({
      ...codeOf(said),
      shopTag: said.shopTag === 'ABC' ? 'ABD' : 'ABC',
    })
    expect(await get(`/api/scan/${other}`)).toMatchObject({
      status: 400,
      body: { code: 'otherShop', says: { cup: CUP } },
    })
    const future = encodeCupCode({ ...codeOf(said), mixedAtMs: START_MS + 6 * MINUTE })
    expect(await get(`/api/scan/${future}`)).toMatchObject({
      status: 400,
      body: { code: 'mixedInFuture' },
    })
  })

  test('a cup that the state has evicted is read from the log', async () => {
    const { send, clock, shops, store } = await mixedShop()
    await send('EmptyCup', { cup: CUP, how: 'used' })
    clock.advance(13 * 60 * MINUTE)
    // Trimming goes by the newest entry: it reads no clock.
    await send('ReadClimate', { zone: 'bench', airC: 18, rh: 0.5 })
    await shops.close()
    const again = await openTestShop({ store, clock, more: [labelRoutes] })
    expect(again.shops.ownWriter.state().things.cup[CUP]).toBeUndefined()
    expect(await again.get(`/api/scan/${CUP}`)).toMatchObject({
      status: 200,
      body: { kind: 'cup' },
    })
    const drawn = await again.app.request(`/api/labels/cup/${CUP}.svg`)
    expect(drawn.status).toBe(200)
  })
})
