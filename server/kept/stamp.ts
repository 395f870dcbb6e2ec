import { lstatSync, readdirSync } from 'node:fs'
import { join } from 'node:path'

/** Whatever the program and its kiosk are made of. Packages are named by the lock file. */
const SOURCES = ['kiosk', 'labels', 'machines', 'server', 'package.json', 'package-lock.json']

/**
 * Names the sources of a checkout without reading them: by where each file lies, its length and when it was
 * changed last, and by the Bun that runs them. Some 2 ms.
 * @param root the folder of the checkout
 * @throws where one of the folders is missing
 */
export function stampOf(root: string): string {
  const found: string[] = [Bun.version, root]
  const look = (path: string): void => {
    // A link is not followed, as an editor's lock leads nowhere; and a file may go while they are looked at.
    const stat = lstatSync(path, { throwIfNoEntry: false })
    found.push(`${path} ${stat?.size} ${stat?.mtimeMs}`)
  }
  const lookIn = (folder: string): void => {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const path = join(folder, entry.name)
      if (entry.isDirectory()) lookIn(path)
      else look(path)
    }
  }
  for (const source of SOURCES) {
    const path = join(root, source)
    if (/\.\w+$/.test(source)) look(path)
    else lookIn(path)
  }
  return Bun.hash(found.sort().join('\n')).toString(36)
}
