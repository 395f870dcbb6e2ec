import type { KioskFiles, ServedFile } from '../../server/kioskPacked.ts'

/** What a kiosk fetches before it can show the Wall: its page, scripts, style sheets and the fonts of its words. */

/** What a page names to be fetched with it, and what a script does. */
const BY_PAGE = /(?:src=|rel="stylesheet"[^>]*href=)"([^"]+\.(?:js|css))"/g
const BY_SCRIPT = /(?:\bfrom\s*|\bimport\s*)"([^"]+\.js)"/g

/** @returns each file with its bytes, plain and as they travel */
export function firstWall({ files }: KioskFiles) {
  const fonts = [...files.keys()].filter((path) => /^\/fonts\/.+-core-/.test(path))
  return [...fetchedWith(files, '/index.html'), ...fonts].map((path) => {
    const { bodies } = files.get(path) as ServedFile
    const plain = bodies.identity.byteLength
    return { path, plain, wire: bodies.br?.byteLength ?? plain }
  })
}

/** A file and all that come with it. What is imported when a screen is opened is not among them. */
function fetchedWith(files: KioskFiles['files'], start: string): readonly string[] {
  const found = new Set([start])
  for (const path of found) {
    const text = new TextDecoder().decode(files.get(path)?.bodies.identity)
    for (const [, name = ''] of text.matchAll(path.endsWith('.html') ? BY_PAGE : BY_SCRIPT)) {
      const named = new URL(name, `http://kiosk${path}`).pathname
      if (files.has(named)) found.add(named)
    }
  }
  return [...found]
}
