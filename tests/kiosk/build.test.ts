import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { buildKiosk } from '../../kiosk/build.ts'
import { CORE, FIGURES, unicodeRange } from '../../kiosk/fonts/core.ts'
import { en } from '../../kiosk/words/en.ts'
import { es } from '../../kiosk/words/es.ts'
import { STATE_PATH } from '../../machines/contract/packedState.ts'
import { served } from '../../server/kioskServed.ts'
import { firstWall } from '../support/firstWall.ts'

const text = (body: Uint8Array | undefined) => new TextDecoder().decode(body)

test('the page names only files that are served, and nothing of another origin', async () => {
  const { files } = await buildKiosk()
  const html = text(files.get('/index.html')?.body)
  const css = [...files].filter(([path]) => path.endsWith('.css')).map(([, f]) => text(f.body))
  const named = [
    ...html.matchAll(/(?:src|href)="([^"]+)"/g),
    ...css.join().matchAll(/url\(([^)]+)\)/g),
  ].map((m) => m[1] ?? '')
  expect(named.length).toBeGreaterThanOrEqual(7)
  // The shop itself is not a file: the page asks its own server for it.
  for (const url of named) expect([...files.keys(), STATE_PATH], url).toContain(url)
  expect(files.has('/bells/tickWorker.js')).toBe(true)
  expect(files.get('/')).toBe(files.get('/index.html'))
})

test('fonts are woff2, of the few weights in use', async () => {
  const { files } = await buildKiosk()
  const fonts = [...files].filter(([, f]) => f.type === 'font/woff2')
  expect(fonts.map(([path]) => path).filter((path) => path.includes('-core-'))).toHaveLength(3)
  expect(fonts).toHaveLength(9)
  for (const [, { body }] of fonts) expect(text(body.subarray(0, 4))).toBe('wOF2')
})

/** No cut of these fonts has the first ones: the device's own letters step in. § comes with the whole font. */
const BY_OTHERS = 'µ←→✓ΔΣγ§'

test('the fonts of a first Wall have every character of the words in English and Spanish', () => {
  const folders = ['../../kiosk/words/', '../../machines/words/'].map(
    (folder) => new URL(folder, import.meta.url),
  )
  const words = folders.flatMap((folder) =>
    readdirSync(folder).map((name) => readFileSync(new URL(name, folder), 'utf8')),
  )
  const isKnown = (c: string) => CORE.includes(c) || BY_OTHERS.includes(c) || c === '\n'
  expect(words.length).toBeGreaterThan(30)
  expect([...new Set(words.join(''))].filter((c) => !isKnown(c))).toEqual([])
})

test('the style sheet names exactly the characters that the cut fonts have', async () => {
  const css = readFileSync(new URL('../../kiosk/fonts/fonts.css', import.meta.url), 'utf8')
  const faces = css.split('@font-face').filter((face) => face.includes('-core-'))
  expect(faces).toHaveLength(3)
  for (const face of faces) {
    const range = /unicode-range:\s*([^;]+);/.exec(face)?.[1]?.replace(/\s+/g, ' ')
    expect(range).toBe(unicodeRange(face.includes('Mono') ? FIGURES : CORE))
  }
})

test.each([
  ['English', en],
  ['Spanish', es],
])('what comes next on a Wall needs no second file of these letters in %s', (_, { wall }) => {
  expect([...wall.now].filter((c) => !FIGURES.includes(c))).toEqual([])
})

/** Thousands of bytes, as networks count them: what `npm run bench -- transfer` wants of it. */
const FIRST_WALL_MOST_KB = 135

test('a first Wall takes little of the network: its files, fonts included, the camera reader not', async () => {
  const sizes = firstWall(await served(await buildKiosk()))
  expect(sizes.map(({ path }) => path).filter((path) => path.includes('/fonts/'))).toHaveLength(3)
  // One script and its beginning: a slow device pays for each file.
  expect(sizes.filter(({ path }) => path.endsWith('.js'))).toHaveLength(2)
  expect(sizes.reduce((sum, { wire }) => sum + wire, 0) / 1_000).toBeLessThan(FIRST_WALL_MOST_KB)
})

test('packages come as they are built for use, not as they are developed with', async () => {
  const { files } = await buildKiosk()
  const scripts = [...files].filter(([path]) => path.endsWith('.js'))
  expect(scripts.length).toBeGreaterThan(10)
  // What XState says to a developer alone.
  for (const [path, { body }] of scripts)
    expect(text(body).includes('console.warn'), path).toBe(false)
})

test('only files whose name changes with their content may be kept forever', async () => {
  const { files } = await buildKiosk()
  for (const [path, { immutable }] of files)
    expect(immutable, path).toBe(/^\/assets\/.+-[0-9a-z]{8}\.\w+$/.test(path))
})

test('the build is named by its content, in the page too, wherever the server was started', async () => {
  const { build, files } = await buildKiosk()
  expect(build).toMatch(/^[0-9a-f]{16}$/)
  expect(text(files.get('/')?.body)).toContain(`<meta name="build" content="${build}"`)
  const elsewhere = mkdtempSync(join(tmpdir(), 'kiosk-'))
  onTestFinished(() => rmSync(elsewhere, { recursive: true }))
  const script = `const { buildKiosk } = await import(${JSON.stringify(
    join(import.meta.dirname, '../../kiosk/build.ts'),
  )}); console.log((await buildKiosk()).build)`
  const other = Bun.spawn([process.execPath, '-e', script], { cwd: elsewhere })
  expect((await new Response(other.stdout).text()).trim()).toBe(build)
})
