import { chmodSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { brotliDecompressSync, gunzipSync } from 'node:zlib'
import { Hono } from 'hono'
import { beforeAll, expect, onTestFinished, test } from 'vitest'
import { buildKiosk, type KioskBuild } from '../../kiosk/build.ts'
import type { Env } from '../../server/http.ts'
import { kioskFiles } from '../../server/kioskFiles.ts'
import type { KioskFiles } from '../../server/kioskPacked.ts'
import { served } from '../../server/kioskServed.ts'
import { kioskRoutes } from '../../server/routes/kiosk.ts'
import { dataFolder } from '../support/serverProcess.ts'

let built: KioskBuild
let made: KioskFiles
beforeAll(async () => {
  built = await buildKiosk()
  made = await served(built)
})

function folderOfOwn(): string {
  const { folder, remove } = dataFolder()
  onTestFinished(remove)
  return folder
}

const contents = ({ build, files }: KioskFiles) => ({
  build,
  files: [...files].map(([path, { bodies, ...file }]) => ({
    path,
    ...file,
    bodies: Object.entries(bodies).map(([as, body]) => [as, Bun.hash(body)]),
  })),
})

test('what a second start finds is what the first one built, to the byte', async () => {
  const folder = folderOfOwn()
  const first = await kioskFiles(folder)
  const [name = ''] = readdirSync(folder)
  const written = readFileSync(join(folder, name))
  const second = await kioskFiles(folder)
  expect(contents(second)).toEqual(contents(first))
  expect(first.build).toBe(built.build)
  expect(readdirSync(folder)).toEqual([name])
  expect(readFileSync(join(folder, name)).equals(written)).toBe(true)
})

test('a damaged copy is not served: it is built again and replaced', async () => {
  const folder = folderOfOwn()
  const first = await kioskFiles(folder)
  const [name = ''] = readdirSync(folder)
  const damaged = readFileSync(join(folder, name))
  damaged.writeUInt8((damaged.at(-1) ?? 0) ^ 1, damaged.length - 1)
  writeFileSync(join(folder, name), damaged)
  expect(contents(await kioskFiles(folder))).toEqual(contents(first))
  expect(readFileSync(join(folder, name)).equals(damaged)).toBe(false)
})

test('the copy of other sources is removed, and nothing else is', async () => {
  const folder = folderOfOwn()
  writeFileSync(join(folder, 'kiosk-0123456789abcdef.bin'), 'of an older program')
  writeFileSync(join(folder, 'notes.txt'), 'of a person')
  await kioskFiles(folder)
  const left = readdirSync(folder)
  expect(left).toHaveLength(2)
  expect(left).toContain('notes.txt')
  expect(left).not.toContain('kiosk-0123456789abcdef.bin')
})

test('where the folder cannot be made the kiosk is served from memory', async () => {
  const folder = folderOfOwn()
  const file = join(folder, 'a-file')
  writeFileSync(file, '')
  chmodSync(file, 0o400)
  expect((await kioskFiles(join(file, 'cache'))).build).toBe(built.build)
})

const asked = async (path: string, headers: Record<string, string> = {}) => {
  const app = new Hono<Env>()
  kioskRoutes(made)(app, {} as never)
  return app.request(path, { headers })
}

test('each file comes compressed as the browser takes it, and is the file when unpacked', async () => {
  for (const [path, { body }] of built.files) {
    const plain = await asked(path)
    expect(plain.headers.get('Content-Encoding'), path).toBeNull()
    expect(Buffer.from(await plain.arrayBuffer()).equals(body), path).toBe(true)
    for (const [encoding, unpack] of [
      ['br', brotliDecompressSync],
      ['gzip', gunzipSync],
    ] as const) {
      const answer = await asked(path, { 'Accept-Encoding': encoding })
      const bytes = Buffer.from(await answer.arrayBuffer())
      const isPacked = answer.headers.get('Content-Encoding') === encoding
      // Fonts and pictures are packed already; a few bytes grow.
      if (/^text/.test(plain.headers.get('Content-Type') ?? '') && body.byteLength > 1_000)
        expect(isPacked, path).toBe(true)
      expect((isPacked ? unpack(bytes) : bytes).equals(body), path).toBe(true)
      expect(answer.headers.get('Vary')).toBe('Accept-Encoding')
    }
  }
})

test('brotli is chosen before gzip, and a form of quality 0 never is', async () => {
  const encodingOf = async (accepted: string) =>
    (await asked('/', { 'Accept-Encoding': accepted })).headers.get('Content-Encoding')
  expect(await encodingOf('gzip, deflate, br, zstd')).toBe('br')
  expect(await encodingOf('gzip, br;q=0')).toBe('gzip')
  expect(await encodingOf('BR;q=0.0, gzip;q=0')).toBeNull()
  expect(await encodingOf('zstd')).toBeNull()
})

test('a browser that already has the content gets 304 and no body', async () => {
  const etag = (await asked('/')).headers.get('ETag') ?? ''
  const again = await asked('/', { 'If-None-Match': `"other", W/${etag}` })
  expect(again.status).toBe(304)
  expect(await again.text()).toBe('')
  expect(again.headers.get('ETag')).toBe(etag)
  expect((await asked('/', { 'If-None-Match': '"other"' })).status).toBe(200)
})
