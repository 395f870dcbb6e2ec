import { promisify } from 'node:util'
import { brotliCompress, constants, gzip } from 'node:zlib'
import type { KioskBuild, KioskFile } from '../kiosk/build.ts'
import type { KioskFiles, ServedFile } from './kioskPacked.ts'

/** Compresses a build, once: what is kept is served as it is, and a start loads nothing that compresses. */

/** The best quality takes seconds beyond this size and saves little. */
const BEST_MOST_BYTES = 600_000
const GOOD_QUALITY = 9

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
