import { createHash } from 'node:crypto'
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { encode } from 'fast-png'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { PHOTO_MOST_BYTES, photoType } from '../../server/photos.ts'
import { photoRoutes } from '../../server/routes/photos.ts'
import { openTestShop, type TestShop } from '../support/serverShop.ts'

/** Pictures over HTTP, in a real folder. */

let data: string
let shop: TestShop

beforeAll(async () => {
  data = await mkdtemp(join(tmpdir(), 'flashbell-photos-'))
  shop = await openTestShop({ more: [photoRoutes(join(data, 'photos'))] })
})
afterAll(() => rm(data, { recursive: true, force: true }))

/** A real picture: two by two gray points, of a brightness of their own. */
const picture = (grey: number): Uint8Array =>
  encode({ width: 2, height: 2, channels: 1, depth: 8, data: new Uint8Array(4).fill(grey) })
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')
const post = (body: Uint8Array | string) =>
  shop.app.request('/api/photos', {
    method: 'POST',
    body: typeof body === 'string' ? body : Uint8Array.from(body),
  })
const said = async (response: Response) => ({
  status: response.status,
  body: (await response.json()) as { error?: { message: string }; photo?: string },
})
/** What the folder holds. */
const kept = () => readdir(join(data, 'photos')).catch(() => [])

describe('a picture', () => {
  test('is kept under the hash of its bytes and comes back as it was sent, never to be asked for again', async () => {
    const bytes = picture(40)
    expect(await said(await post(bytes))).toEqual({ status: 200, body: { photo: sha256(bytes) } })
    const back = await shop.app.request(`/api/photos/${sha256(bytes)}`)
    expect(new Uint8Array(await back.arrayBuffer())).toEqual(Uint8Array.from(bytes))
    expect(back.headers.get('Content-Type')).toBe('image/png')
    expect(back.headers.get('Cache-Control')).toContain('immutable')
    expect(back.headers.get('X-Content-Type-Options')).toBe('nosniff')
  })

  test('that is sent again is the same picture, kept once', async () => {
    const bytes = picture(80)
    await Promise.all([post(bytes), post(bytes), post(bytes)])
    const before = await kept()
    expect(await said(await post(bytes))).toMatchObject({ body: { photo: sha256(bytes) } })
    expect(await kept()).toEqual(before)
    expect(before.filter((name) => name === sha256(bytes))).toHaveLength(1)
    expect(before.filter((name) => name.endsWith('.part'))).toEqual([])
  })

  test('may have 10 MB and not a byte more', async () => {
    const whole = new Uint8Array(PHOTO_MOST_BYTES)
    whole.set(picture(120))
    expect((await post(whole)).status).toBe(200)
    const before = await kept()
    const larger = new Uint8Array(PHOTO_MOST_BYTES + 1)
    larger.set(picture(121))
    const { status, body } = await said(await post(larger))
    expect(status).toBe(413)
    expect(body.error?.message).toContain('10 MB')
    expect(await kept()).toEqual(before)
  })

  test('is what its bytes say, whatever type was declared', async () => {
    const before = await kept()
    for (const [bytes, says] of [
      ['', 'the body is missing. '],
      ['<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>', 'bytes" won\'t work. '],
      ['RIFF....WAVE', 'bytes" won\'t work. '],
      ['\x89PNG', 'bytes" won\'t work. '],
    ] as const) {
      const { status, body } = await said(await post(bytes))
      expect(status).toBe(400)
      expect(body.error?.message).toContain(says)
      expect(body.error?.message).toContain('Use a JPEG, PNG or WebP')
    }
    expect(await kept()).toEqual(before)
  })

  test('is asked for by its hash alone: no name reaches another file', async () => {
    await writeFile(join(data, 'secret'), picture(1))
    await mkdir(join(data, 'photos'), { recursive: true })
    await writeFile(join(data, 'photos', 'note'), picture(2))
    for (const name of [
      '../secret',
      '..%2Fsecret',
      '%2e%2e%2fsecret',
      'note',
      `${'a'.repeat(63)}/`,
      'A'.repeat(64),
      `${'0'.repeat(64)}.png`,
      '0'.repeat(64),
      `%00${'0'.repeat(63)}`,
    ]) {
      const response = await shop.app.request(`/api/photos/${name}`)
      expect([name, response.status]).toEqual([name, 404])
      expect(await response.text()).not.toContain('PNG')
    }
  })

  test('is not served where the file beside the log is not a picture any more', async () => {
    const bytes = picture(160)
    const { body } = await said(await post(bytes))
    await writeFile(join(data, 'photos', String(body.photo)), 'torn')
    expect((await shop.app.request(`/api/photos/${body.photo}`)).status).toBe(404)
  })

  test('that cannot be written is said to be not kept', async () => {
    const file = join(data, 'no-folder')
    await writeFile(file, 'a file stands where the folder would be')
    const full = await openTestShop({ more: [photoRoutes(file)] })
    const response = await full.app.request('/api/photos', {
      method: 'POST',
      body: Uint8Array.from(picture(200)),
    })
    expect(await said(response)).toMatchObject({ status: 503, body: { error: {} } })
    expect(full.reports).toHaveLength(1)
    expect(await readFile(file, 'utf8')).toContain('a file stands')
  })

  test('is sent by a page of this server only, and by no other method', async () => {
    const foreign = await shop.app.request('/api/photos', {
      method: 'POST',
      headers: { Origin: 'http://elsewhere.example' },
      body: Uint8Array.from(picture(220)),
    })
    expect(foreign.status).toBe(403)
    expect((await shop.app.request('/api/photos')).status).toBe(405)
    expect((await shop.app.request('/api/photos', { method: 'DELETE' })).status).toBe(405)
  })
})

test('the first bytes of each kind of picture are known, and those of others are not', () => {
  // JPEG: ITU-T T.81 annex B (SOI, then a marker). PNG: ISO/IEC 15948 clause 5.2. WebP: RFC 9649.
  const bytes = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0))
  expect(photoType(bytes('\xff\xd8\xff\xe0\x00\x10JFIF'))).toBe('image/jpeg')
  expect(photoType(bytes('\xff\xd8\xff\xdb'))).toBe('image/jpeg')
  expect(photoType(bytes('\x89PNG\r\n\x1a\n'))).toBe('image/png')
  expect(photoType(bytes('RIFF\x24\x00\x00\x00WEBPVP8 '))).toBe('image/webp')
  expect(photoType(bytes('GIF89a'))).toBeNull()
  expect(photoType(bytes('\xff\xd8'))).toBeNull()
  expect(photoType(new Uint8Array())).toBeNull()
})
