import { createHash } from 'node:crypto'
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { encode } from 'fast-png'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { memoryOutboxDb, type OutboxDb } from '../../kiosk/commands/outboxDb.ts'
import { sendPicture } from '../../kiosk/commands/picture.ts'
import { isTaken } from '../../kiosk/commands/send.ts'
import { nameOf } from '../../kiosk/jobs/photo.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { PHOTO_MOST_BYTES } from '../../server/photos.ts'
import { photoRoutes } from '../../server/routes/photos.ts'
import { outboxShop } from './outboxShop.ts'

/** Photos taken while the server is away: the bytes wait with their command, and go before it. */

const JOB = 'VANREAR2'

let folder: string
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'flashbell-photos-'))
})
afterEach(() => rm(folder, { recursive: true, force: true }))

/** A real picture: two by two gray points, of a brightness of their own. */
const picture = (grey: number) =>
  Uint8Array.from(
    encode({ width: 2, height: 2, channels: 1, depth: 8, data: new Uint8Array(4).fill(grey) }),
  )
const RUN = picture(40)
const NIB = picture(80)

async function van() {
  const shop = await outboxShop([photoRoutes(folder)], folder)
  await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
  const page = shop.page()
  return { shop, page, take: taking(page), onServer: () => readdir(folder) }
}

/** Takes a photo on a page, as its screen does. */
const taking =
  (page: ReturnType<Awaited<ReturnType<typeof outboxShop>>['page']>) =>
  (bytes: Uint8Array<ArrayBuffer>) => {
    page.out.attach(nameOf(bytes), bytes)
    return page.out.send('AddPhoto', { job: JOB, photo: nameOf(bytes) })
  }

const photosIn = (state: State | null) =>
  (state && contextOf(state, 'job', JOB))?.notes.flatMap(({ photo }) => photo ?? [])

test('a picture has the name that the server gives it', () => {
  expect(nameOf(RUN)).toBe(createHash('sha256').update(RUN).digest('hex'))
  // FIPS 180-4 with its published example: the digest of "abc".
  expect(nameOf(Uint8Array.from(Buffer.from('abc')))).toBe(
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
  )
})

test('with its server a photo goes at once, the bytes first, and nothing of it stays here', async () => {
  const { shop, page, take, onServer } = await van()
  expect((await take(RUN)).kind).toBe('kept')
  expect(shop.received.slice(-2)).toMatchObject(['a picture', { type: 'AddPhoto' }])
  expect(await onServer()).toEqual([nameOf(RUN)])
  expect(await page.db.picture(nameOf(RUN))).toBe(null)
  expect(await page.out.picture(nameOf(RUN))).toBe(null)
})

describe('without its server', () => {
  test('a photo is kept with its bytes, shown among the notes, and goes once and in order, through a reload', async () => {
    const { shop, page, take, onServer } = await van()
    page.away()
    await page.out.send('AddNote', { job: JOB, text: 'before' })
    expect((await take(RUN)).kind).toBe('queued')
    await page.out.send('AddNote', { job: JOB, text: 'after' })
    expect((await take(NIB)).kind).toBe('queued')
    expect(photosIn(page.out.state.value)).toEqual([nameOf(RUN), nameOf(NIB)])

    const again = shop.page(page.db)
    again.away()
    await expect.poll(() => again.out.queue.value.length).toBe(4)
    expect(photosIn(again.out.state.value)).toEqual([nameOf(RUN), nameOf(NIB)])
    expect(await again.out.picture(nameOf(RUN))).toEqual(RUN)
    expect(await onServer()).toEqual([])
    const before = shop.received.length
    await again.back()
    expect(shop.received.slice(before)).toMatchObject([
      { type: 'AddNote', seq: 1 },
      'a picture',
      [
        { type: 'AddPhoto', seq: 2, data: { photo: nameOf(RUN) } },
        { type: 'AddNote', seq: 3 },
      ],
      'a picture',
      { type: 'AddPhoto', seq: 4, data: { photo: nameOf(NIB) } },
    ])
    expect(new Uint8Array(await readFile(join(folder, nameOf(RUN))))).toEqual(RUN)
    expect((await shop.log()).filter(({ type }) => type === 'PhotoAdded')).toHaveLength(2)
    expect(again.out.queue.value).toEqual([])
    expect(await again.out.picture(nameOf(RUN))).toBe(null)
  })

  test('a photo whose answers were lost is sent again, and is in the log and on the disk once', async () => {
    const { shop, page, take, onServer } = await van()
    shop.line.state = 'answerLost'
    expect((await take(RUN)).kind).toBe('queued')
    // The bytes are with the server, which nobody here knows: the command is not.
    expect(await onServer()).toEqual([nameOf(RUN)])
    expect((await shop.log()).filter(({ type }) => type === 'PhotoAdded')).toEqual([])
    await page.back()
    expect(page.out.queue.value).toEqual([])
    expect(await onServer()).toEqual([nameOf(RUN)])
    expect((await shop.log()).filter(({ type }) => type === 'PhotoAdded')).toHaveLength(1)
  })

  test('the same photo of two commands keeps its bytes until the last of them is settled', async () => {
    const { page, take } = await van()
    page.away()
    await take(RUN)
    await take(RUN)
    const [first, second] = page.out.queue.value
    if (first) await page.out.discard(first)
    expect(await page.out.picture(nameOf(RUN))).toEqual(RUN)
    if (second) await page.out.discard(second)
    expect(await page.out.picture(nameOf(RUN))).toBe(null)
  })
})

describe('a photo that is not taken', () => {
  test('for its size stays with the reason and its bytes, and holds up nothing behind it', async () => {
    const { shop, page, take } = await van()
    page.away()
    const large = new Uint8Array(PHOTO_MOST_BYTES + 1)
    large.set(RUN)
    expect((await take(large)).kind).toBe('queued')
    await page.out.send('AddNote', { job: JOB, text: 'after' })
    await page.back()
    expect(page.out.queue.value).toMatchObject([
      { command: { type: 'AddPhoto' }, trouble: { kind: 'wrong', error: { field: 'photo' } } },
    ])
    expect(page.notTaken).toHaveLength(1)
    expect((await page.out.picture(nameOf(large)))?.length).toBe(large.length)
    expect((await shop.log()).at(-1)).toMatchObject({ type: 'NoteAdded' })
  })

  test('is kept also where its painter has read the reason: it cannot be taken once more', async () => {
    const { page, take } = await van()
    const noPicture = Uint8Array.from(Buffer.from('no picture at all'))
    expect((await take(noPicture)).kind).toBe('wrong')
    await expect.poll(() => page.out.queue.value).toMatchObject([{ trouble: { kind: 'wrong' } }])
    expect(await page.out.picture(nameOf(noPicture))).toEqual(noPicture)
  })

  test('of a job that is not known stays with the refusal, and goes when it is tried again', async () => {
    const shop = await outboxShop([photoRoutes(folder)], folder)
    const page = shop.page()
    page.away()
    expect((await taking(page)(RUN)).kind).toBe('queued')
    await page.back()
    expect(page.out.queue.value).toMatchObject([
      { trouble: { kind: 'refused', refusal: { code: 'unknownThing' } } },
    ])
    await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
    const [left] = page.out.queue.value
    if (left) await page.out.tryAgain(left)
    expect(page.out.queue.value).toEqual([])
    expect(photosIn(shop.state())).toEqual([nameOf(RUN)])
  })
})

describe('a server that has no such picture', () => {
  test('refuses a command that names it, and `verify` never meets one', async () => {
    const { shop } = await van()
    const data = { job: JOB, photo: nameOf(RUN) }
    const answer = await shop.server.post('/api/commands', { id: 'p1', type: 'AddPhoto', data })
    expect(answer).toMatchObject({
      status: 409,
      body: { refusal: { code: 'photoMissing', message: expect.stringMatching(/not here/) } },
    })
    expect((await shop.log()).filter(({ type }) => type === 'PhotoAdded')).toEqual([])
    await shop.server.app.request('/api/photos', { method: 'POST', body: RUN })
    const again = await shop.server.post('/api/commands', { id: 'p1', type: 'AddPhoto', data })
    expect(again.status).toBe(200)
    // Its first answer, also where the picture was lost since.
    await rm(join(folder, nameOf(RUN)))
    expect(await shop.server.post('/api/commands', { id: 'p1', type: 'AddPhoto', data })).toEqual(
      again,
    )
  })

  test('gets it again from the kiosk that holds it, without a question', async () => {
    const { shop, page, take, onServer } = await van()
    let times = 0
    shop.line.onWay = async (path) => {
      times += 1
      // The bytes have arrived; the folder loses them before the command that names them comes.
      if (path === '/api/commands' && times === 2) await rm(join(folder, nameOf(RUN)))
    }
    const sent = take(RUN)
    expect((await sent).kind).toMatch(/kept|queued/)
    await page.out.flush()
    expect(times).toBe(4)
    await expect.poll(() => photosIn(shop.state())).toEqual([nameOf(RUN)])
    expect(await onServer()).toEqual([nameOf(RUN)])
    expect(page.notTaken).toEqual([])
  })

  test('leaves it to a person where no kiosk holds it', async () => {
    const { page } = await van()
    const sent = await page.out.send('AddPhoto', { job: JOB, photo: nameOf(NIB) })
    expect(sent).toMatchObject({ kind: 'refused', refusal: { code: 'photoMissing' } })
  })
})

test('a device without room says so; the photo stays in hand and goes when there is room', async () => {
  const { shop, page: first } = await van()
  let isFull = true
  const real = memoryOutboxDb()
  const db: OutboxDb = {
    ...real,
    add: async (queued, bytes) => {
      if (isFull) throw new DOMException('The disk is full.', 'QuotaExceededError')
      return await real.add(queued, bytes)
    },
  }
  const page = shop.page(db, first.others)
  page.away()
  const sent = await taking(page)(RUN)
  expect(sent).toMatchObject({ kind: 'away', isFull: true })
  expect(isTaken(sent)).toBe(false)
  expect(await page.out.picture(nameOf(RUN))).toEqual(RUN)
  isFull = false
  expect((await page.out.send('AddPhoto', { job: JOB, photo: nameOf(RUN) })).kind).toBe('queued')
  await page.back()
  expect(photosIn(shop.state())).toEqual([nameOf(RUN)])
})

test('the server’s answer to a picture is understood, or means that the server is away', async () => {
  const answers = (status: number, body: object) => async () => Response.json(body, { status })
  const send = (fetcher: () => Promise<Response>) => sendPicture(fetcher, RUN)
  expect(await send(answers(200, { photo: 'ab' }))).toEqual({ kind: 'there' })
  expect(await send(answers(413, { error: { message: 'larger' } }))).toEqual({
    kind: 'wrong',
    error: { field: 'photo', message: 'larger' },
  })
  expect(await send(answers(503, { error: { message: 'full' } }))).toEqual({ kind: 'away' })
  expect(await send(() => Promise.reject(new Error('no line')))).toEqual({ kind: 'away' })
  expect(await send(async () => new Response('<html>'))).toEqual({ kind: 'away' })
})
