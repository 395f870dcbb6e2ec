import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { buildKiosk } from '../../kiosk/build.ts'
import { STATE_PATH } from '../../machines/contract/packedState.ts'

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

test('fonts are woff2, of the few weights in use, and small', async () => {
  const { files } = await buildKiosk()
  const fonts = [...files].filter(([, f]) => f.type === 'font/woff2')
  expect(fonts).toHaveLength(4)
  for (const [, { body }] of fonts) expect(text(body.subarray(0, 4))).toBe('wOF2')
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
