import { readdirSync, readFileSync } from 'node:fs'
import { mkdir, readdir, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { PageParts } from './jobExport/html.ts'
import { type KioskFiles, packed, unpacked } from './kioskPacked.ts'

/**
 * The kiosk as it is served: built and compressed once, then kept beside the log under a hash of its
 * sources. A start that finds it there neither loads the bundler nor compresses anything.
 */

const root = fileURLToPath(new URL('..', import.meta.url))
/** Whatever may end up in a bundle. Packages are named by the lock file. */
const SOURCES = [
  ...['kiosk', 'labels', 'machines', 'package-lock.json'],
  ...['server/kioskFiles.ts', 'server/kioskPacked.ts', 'server/kioskServed.ts'],
]
/** Written into the program that is kept (kept/make.ts): it is used for the sources of then only. */
declare const KIOSK_SOURCES: string | undefined

/**
 * The kiosk of these sources, from the folder where it was kept, or else built and kept there. A
 * folder that cannot be written to does not matter: the kiosk is then built into memory at each start.
 * @param folder made if it is missing
 * @throws when the sources do not build; the message holds the bundler's words
 */
export async function kioskFiles(folder: string): Promise<KioskFiles> {
  const sources = typeof KIOSK_SOURCES === 'string' ? KIOSK_SOURCES : hashOfSources()
  const name = `kiosk-${sources}.bin`
  const kept = readKept(join(folder, name))
  if (kept) return kept
  const { buildKiosk } = await import('../kiosk/build.ts')
  const { served } = await import('./kioskServed.ts')
  const made = await served(await buildKiosk())
  await keep(folder, name, made).catch(() => {})
  return made
}

/** The program of the page that a job is exported as. Its fonts lie beside no file: the device's own step in. */
export function exportPageIn({ files }: KioskFiles): PageParts {
  const text = (path: string) => new TextDecoder().decode(files.get(path)?.bodies.identity)
  const style = text('/trace/exportPage.css').replace(/@font-face\s*\{[^}]*\}/g, '')
  return { script: text('/trace/exportPage.js'), style }
}

/** Names the sources by what they say. Read in one go: nobody is served yet, and hundreds of small files one after another would take most of the start. */
export function hashOfSources(): string {
  const hash = new Bun.CryptoHasher('sha256')
  hash.update(Bun.version)
  for (const source of SOURCES) {
    for (const file of filesIn(source)) {
      hash.update(`\n${file}\n`)
      hash.update(readFileSync(join(root, file)))
    }
  }
  return hash.digest('hex').slice(0, 16)
}

function filesIn(source: string): readonly string[] {
  if (/\.\w+$/.test(source)) return [source]
  const found = readdirSync(join(root, source), { recursive: true, withFileTypes: true })
  const paths = found.filter((entry) => entry.isFile()).map((e) => join(e.parentPath, e.name))
  return paths.map((path) => path.slice(root.length)).sort()
}

/** What was kept, or null where it is missing or damaged: then it is built again. In one go, as above. */
function readKept(file: string): KioskFiles | null {
  try {
    return unpacked(readFileSync(file))
  } catch {
    return null
  }
}

async function keep(folder: string, name: string, made: KioskFiles): Promise<void> {
  await mkdir(folder, { recursive: true })
  // Written whole under another name first: a start that reads it meanwhile finds all or nothing.
  const partial = join(folder, `${name}.${process.pid}.tmp`)
  await writeFile(partial, packed(made))
  await rename(partial, join(folder, name))
  const others = (await readdir(folder)).filter((o) => /^kiosk-\w+\.bin$/.test(o) && o !== name)
  await Promise.all(others.map((other) => rm(join(folder, other), { force: true })))
}
