import { readdirSync, readFileSync } from 'node:fs'
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { brotliCompress, constants, gzip } from 'node:zlib'
import type { KioskBuild, KioskFile } from '../kiosk/build.ts'
import type { PageParts } from './jobExport/html.ts'

/**
 * The kiosk as it is served: built and compressed once, then kept beside the log under a hash of its
 * sources. A start that finds it there neither loads the bundler nor compresses anything.
 */

/** How a body travels. `identity` is the file as it is. */
export type Encoding = 'br' | 'gzip' | 'identity'
export type ServedFile = Omit<KioskFile, 'body'> & {
  /** Names the content, for a browser that asks whether it has changed. */
  readonly etag: string
  readonly bodies: { readonly identity: Uint8Array } & Partial<Record<Encoding, Uint8Array>>
}
export type KioskFiles = {
  readonly build: string
  /** By URL path. */
  readonly files: ReadonlyMap<string, ServedFile>
}

const root = fileURLToPath(new URL('..', import.meta.url))
/** Whatever may end up in a bundle. Packages are named by the lock file. */
const SOURCES = ['kiosk', 'labels', 'machines', 'server/kioskFiles.ts', 'package-lock.json']
const ENCODINGS: readonly Encoding[] = ['identity', 'br', 'gzip']
/** The best quality takes seconds beyond this size and saves little. */
const BEST_MOST_BYTES = 600_000
const GOOD_QUALITY = 9

/**
 * The kiosk of these sources, from the folder where it was kept, or else built and kept there. A
 * folder that cannot be written to does not matter: the kiosk is then built into memory at each start.
 * @param folder made if it is missing
 * @throws when the sources do not build; the message holds the bundler's words
 */
export async function kioskFiles(folder: string): Promise<KioskFiles> {
  const name = `kiosk-${hashOfSources()}.bin`
  const kept = await readKept(join(folder, name))
  if (kept) return kept
  const { buildKiosk } = await import('../kiosk/build.ts')
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

/** A build as it is served, every file compressed where that makes it smaller. */
export async function served({ build, files }: KioskBuild): Promise<KioskFiles> {
  const made = await Promise.all(
    [...files].map(async ([path, file]) => [path, await servedFile(file)] as const),
  )
  return { build, files: new Map(made) }
}

/** One file as it is served. */
export async function servedFile({ body, type, immutable }: KioskFile): Promise<ServedFile> {
  const etag = `"${Bun.hash(body).toString(36)}"`
  const plain = { type, immutable, etag, bodies: { identity: body } }
  if (/^(font|image\/png)/.test(type)) return plain
  const quality = body.byteLength > BEST_MOST_BYTES ? GOOD_QUALITY : constants.BROTLI_MAX_QUALITY
  const [br, gz] = await Promise.all([
    promisify(brotliCompress)(body, { params: { [constants.BROTLI_PARAM_QUALITY]: quality } }),
    promisify(gzip)(body, { level: constants.Z_BEST_COMPRESSION }),
  ])
  return br.byteLength < body.byteLength
    ? { ...plain, bodies: { identity: body, br, gzip: gz } }
    : plain
}

/** Read in one go: nobody is served yet, and hundreds of small files one after another would take most of the start. */
function hashOfSources(): string {
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

type Listed = Omit<ServedFile, 'bodies'> & {
  readonly path: string
  /** One for each encoding, in their order; null for one that the file does not have. */
  readonly sizes: readonly (number | null)[]
}

/** Layout: digest of the rest (8 bytes), length of the list (4 bytes), the list as JSON, the bodies. */
const DIGEST_BYTES = 8
const HEAD_BYTES = DIGEST_BYTES + 4

async function keep(folder: string, name: string, made: KioskFiles): Promise<void> {
  const files = [...made.files].map(([path, { bodies, ...file }]): Listed => {
    const sizes = ENCODINGS.map((encoding) => bodies[encoding]?.byteLength ?? null)
    return { path, ...file, sizes }
  })
  const list = new TextEncoder().encode(JSON.stringify({ build: made.build, files }))
  const bodies = [...made.files.values()].flatMap((file) =>
    ENCODINGS.flatMap((encoding) => file.bodies[encoding] ?? []),
  )
  const packed = Buffer.concat([new Uint8Array(HEAD_BYTES), list, ...bodies])
  packed.writeUInt32BE(list.byteLength, DIGEST_BYTES)
  packed.writeBigUInt64BE(Bun.hash(packed.subarray(DIGEST_BYTES)) as bigint, 0)
  await mkdir(folder, { recursive: true })
  // Written whole under another name first: a start that reads it meanwhile finds all or nothing.
  const partial = join(folder, `${name}.${process.pid}.tmp`)
  await writeFile(partial, packed)
  await rename(partial, join(folder, name))
  const others = (await readdir(folder)).filter((o) => /^kiosk-\w+\.bin$/.test(o) && o !== name)
  await Promise.all(others.map((other) => rm(join(folder, other), { force: true })))
}

/** What was kept, or null where it is missing or damaged: then it is built again. */
async function readKept(file: string): Promise<KioskFiles | null> {
  try {
    const packed = await readFile(file)
    if (packed.readBigUInt64BE(0) !== Bun.hash(packed.subarray(DIGEST_BYTES))) return null
    let at = HEAD_BYTES + packed.readUInt32BE(DIGEST_BYTES)
    const list = packed.subarray(HEAD_BYTES, at).toString('utf8')
    const { build, files } = JSON.parse(list) as { build: string; files: readonly Listed[] }
    const next = (bytes: number): Uint8Array => {
      at += bytes
      return packed.subarray(at - bytes, at)
    }
    const read = files.map(({ path, sizes, ...file }) => {
      const bodies = sizes.flatMap((bytes, i) =>
        bytes === null ? [] : [[ENCODINGS[i], next(bytes)] as const],
      )
      return [
        path,
        { ...file, bodies: Object.fromEntries(bodies) as ServedFile['bodies'] },
      ] as const
    })
    return { build, files: new Map(read) }
  } catch {
    return null
  }
}
