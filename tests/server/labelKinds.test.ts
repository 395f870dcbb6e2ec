import { describe, expect, test } from 'vitest'
import { encodeThingCode, shopTag } from '../../labels/code.ts'
import { labelRoutes, openedByPhone } from '../../server/routes/labels.ts'
import { oldThingCode } from '../support/labelCodes.ts'
import { readPng } from '../support/labelReader.ts'
import { openTestShop } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

const JOB = 'J7K3MABC'

async function shopWithAll() {
  const shop = await openTestShop({ more: [labelRoutes, openedByPhone] })
  let count = 0
  const send = async (type: string, data: object) => {
    count += 1
    const answer = await shop.post('/api/commands', { id: `c${count}`, type, data })
    expect(answer.status, JSON.stringify(answer.body)).toBe(200)
  }
  await send('SaveSheet', { sheet: CLEAR })
  await send('SaveSheet', { sheet: BASE })
  await send('AddPerson', { person: 'Ana-1', name: 'Ana Example', role: 'painter' })
  await send('SaveGun', { gun: 'Gun-1', name: 'Clear gun', needleMm: 1.3 })
  await send('OpenJob', { job: JOB, title: 'Delivery van, rear corner' })
  const step = { stage: 'clear', sheet: CLEAR.sheet }
  for (const [panel, name] of [
    ['PANE2345', 'Rear door'],
    ['PANE2346', 'Quarter, left'],
  ])
    await send('AddPanel', {
      ...{ panel, job: JOB, name, operation: 'clear-only' },
      ...{ route: [{ stage: 'prep' }, step] },
    })
  const text = async (path: string) => {
    const answer = await shop.app.request(path)
    expect(answer.status, path).toBe(200)
    return { answer, read: await readPng(new Uint8Array(await answer.arrayBuffer())) }
  }
  const tag = shopTag(shop.shops.own)
  return { ...shop, send, text, tag }
}

describe('tags and sheets', () => {
  test('of a person, a gun and a product with its lot are drawn, and what they say is found again', async () => {
    const { text, get, tag, shops } = await shopWithAll()
    const { head } = shops.ownWriter.state()
    const wanted = [
      ['/api/labels/person/Ana-1.png', { kind: 'person' as const, id: 'Ana-1', lot: null }],
      ['/api/labels/gun/Gun-1.png', { kind: 'gun' as const, id: 'Gun-1', lot: null }],
      [
        `/api/labels/shelf/${CLEAR.sheet}.png?lot=${encodeURIComponent('b 22/7')}`,
        { kind: 'product' as const, id: CLEAR.sheet, lot: 'b 22/7' },
      ],
    ] as const
    for (const [path, code] of wanted) {
      const { read } = await text(path)
      expect(read).toBe(encodeThingCode({ ...code, shopTag: tag }))
      const kind = code.kind === 'product' ? 'sheet' : code.kind
      const lot = code.lot === null ? null : 'B-22-7'
      // By what is printed now, and by a tag that was printed earlier.
      for (const scanned of [read, oldThingCode(code.kind, tag, code.id, code.lot)])
        expect(await get(`/api/scan/${scanned}`)).toMatchObject({
          status: 200,
          body: { kind, id: code.id, lot },
        })
    }
    const gone = encodeThingCode({ kind: 'gun', shopTag: tag, id: 'Gun-9', lot: null })
    const unknown = await get(`/api/scan/${gone}`)
    expect(unknown.status).toBe(404)
    expect(JSON.stringify(unknown.body)).toContain(gone)
    expect(shops.ownWriter.state().head).toBe(head)
  })

  test('of a job has its panels, on every paper and as PDF, and its code finds the job', async () => {
    const { text, app, get, tag } = await shopWithAll()
    for (const paper of ['4x6', 'A4', 'letter']) {
      const { answer } = await text(`/api/labels/job/${JOB}.png?paper=${paper}&code=code128`)
      expect(Number(answer.headers.get('x-pages'))).toBeGreaterThanOrEqual(1)
    }
    const svg = await (await app.request(`/api/labels/job/${JOB}.svg`)).text()
    for (const word of ['REAR DOOR', 'QUARTER, LEFT', 'PREP · CLEAR', 'PANE2345'])
      expect(svg).toContain(word)
    const pdf = await app.request(`/api/labels/job/${JOB}.pdf?paper=A4`)
    expect(pdf.headers.get('content-type')).toBe('application/pdf')
    const code = encodeThingCode({ kind: 'job', shopTag: tag, id: JOB, lot: null })
    expect(await get(`/api/scan/${code}`)).toMatchObject({
      status: 200,
      body: { kind: 'job', id: JOB },
    })
  })

  test('of commands is in the shop’s language, and each code is known when it is scanned', async () => {
    const { app, get, send } = await shopWithAll()
    expect(await (await app.request('/api/labels/commands/all.svg')).text()).toContain('COAT START')
    await send('ChangeSettings', { language: 'es' })
    expect(await (await app.request('/api/labels/commands/all.svg')).text()).toContain(
      'EMPEZAR MANO',
    )
    const drawn = await app.request('/api/labels/command/COATSTART.svg')
    expect(drawn.status).toBe(200)
    expect(await get('/api/scan/K1-COATSTART-QP')).toMatchObject({
      status: 200,
      body: { kind: 'command', command: 'COATSTART' },
    })
  })

  test.each([
    ['/api/labels/person/nobody.svg', 404, 'no person nobody'],
    ['/api/labels/shelf/none.png', 404, 'no product none'],
    [`/api/labels/job/${JOB}.png?paper=57x32`, 400, '4x6, A4, letter'],
    [`/api/labels/job/${JOB}.png?page=9`, 400, 'page'],
    [`/api/labels/job/${JOB}.png?code=morse`, 400, 'qr, datamatrix, code128'],
    ['/api/labels/gun/Gun-1.gif', 400, 'GUN.svg'],
  ])('%s is refused with a sentence', async (path, status, says) => {
    const { get } = await shopWithAll()
    expect(await get(path)).toMatchObject({
      status,
      body: { error: { message: expect.stringContaining(says) } },
    })
  })

  test('of who has left the shop are not printed, and a badge of before finds nobody', async () => {
    const { get, send, tag } = await shopWithAll()
    await send('RetirePerson', { person: 'Ana-1' })
    expect(await get('/api/labels/person/Ana-1.svg')).toMatchObject({ status: 404 })
    expect(tag).toHaveLength(3)
  })
})

test('a code that a phone’s own camera opens leads to that label on Scan', async () => {
  const { app } = await shopWithAll()
  for (const way of ['S', 's']) {
    const answer = await app.request(`/${way}/P1-K7F-PANE2345-XX`)
    expect(answer.status).toBe(302)
    expect(answer.headers.get('location')).toBe('/#/scan/P1-K7F-PANE2345-XX')
  }
})
