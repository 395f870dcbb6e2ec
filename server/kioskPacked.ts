import type { KioskFile } from '../kiosk/build.ts'

/** A kiosk as it is served, and as the one file that it is kept in. */

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

const ENCODINGS: readonly Encoding[] = ['identity', 'br', 'gzip']

type Listed = Omit<ServedFile, 'bodies'> & {
  readonly path: string
  /** One for each encoding, in their order; null for one that the file does not have. */
  readonly sizes: readonly (number | null)[]
}

/** Layout: digest of the rest (8 bytes), length of the list (4 bytes), the list as JSON, the bodies. */
const DIGEST_BYTES = 8
const HEAD_BYTES = DIGEST_BYTES + 4

/** @returns a kiosk as the bytes of one file */
export function packed(made: KioskFiles): Uint8Array {
  const files = [...made.files].map(([path, { bodies, ...file }]): Listed => {
    const sizes = ENCODINGS.map((encoding) => bodies[encoding]?.byteLength ?? null)
    return { path, ...file, sizes }
  })
  const list = new TextEncoder().encode(JSON.stringify({ build: made.build, files }))
  const bodies = [...made.files.values()].flatMap((file) =>
    ENCODINGS.flatMap((encoding) => file.bodies[encoding] ?? []),
  )
  const bytes = Buffer.concat([new Uint8Array(HEAD_BYTES), list, ...bodies])
  bytes.writeUInt32BE(list.byteLength, DIGEST_BYTES)
  bytes.writeBigUInt64BE(Bun.hash(bytes.subarray(DIGEST_BYTES)) as bigint, 0)
  return bytes
}

/** @returns the kiosk of such a file; null where it is damaged */
export function unpacked(bytes: Buffer): KioskFiles | null {
  try {
    if (bytes.readBigUInt64BE(0) !== Bun.hash(bytes.subarray(DIGEST_BYTES))) return null
    let at = HEAD_BYTES + bytes.readUInt32BE(DIGEST_BYTES)
    const list = bytes.subarray(HEAD_BYTES, at).toString('utf8')
    const { build, files } = JSON.parse(list) as { build: string; files: readonly Listed[] }
    const next = (length: number): Uint8Array => {
      at += length
      return bytes.subarray(at - length, at)
    }
    const read = files.map(({ path, sizes, ...file }) => {
      const bodies = sizes.flatMap((length, i) =>
        length === null ? [] : [[ENCODINGS[i], next(length)] as const],
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
