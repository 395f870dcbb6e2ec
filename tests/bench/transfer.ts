import { gzipSync } from 'node:zlib'
import { buildKiosk, type KioskFile } from '../../kiosk/build.ts'
import { note, title } from './figures.ts'
import { oursAtMost, part } from './table.ts'

/** What a kiosk fetches before it can show the Wall, without fonts and WebAssembly. */

/** The allowance, in thousands of bytes as networks count them. */
const MOST_KB = 150
const KB = 1_000

/** What an HTML page, a style sheet or a script names to be fetched with it, by file name. */
const NAMED = /(?:src=|rel="stylesheet"[^>]*href=|\bfrom\s*|\bimport\s*)"([^"]+\.(?:js|css))"/g

const SCRIPTS = 'scripts and styles of a first Wall, gzip'

export const transfer = part('transfer', { [SCRIPTS]: oursAtMost(MOST_KB) }, async (put) => {
  title('First transfer of the kiosk')
  const { files } = await buildKiosk()
  const first = fetchedWith(files, '/index.html')
  const sizes = first.map((path) => {
    const { body } = files.get(path) as KioskFile
    return { path, plain: body.byteLength, gzip: gzipSync(body).byteLength }
  })
  const sum = (of: 'plain' | 'gzip') => sizes.reduce((total, size) => total + size[of], 0)
  const limit = { what: 'unpacked', value: sum('plain') / KB }
  put(SCRIPTS, { ours: sum('gzip') / KB, unit: 'kB', limit })
  note(sizes.map(({ path, gzip }) => `${path} ${(gzip / KB).toFixed(1)}`).join(', '))
})

/** All files that come with one, itself left out. What is imported when a screen is opened is not among them. */
function fetchedWith(files: ReadonlyMap<string, KioskFile>, start: string): readonly string[] {
  const found = new Set([start])
  for (const path of found) {
    const text = new TextDecoder().decode(files.get(path)?.body)
    for (const [, name = ''] of text.matchAll(NAMED)) {
      const named = new URL(name, `http://kiosk${path}`).pathname
      if (files.has(named)) found.add(named)
    }
  }
  return [...found].slice(1)
}
