import { existsSync } from 'node:fs'
import { mkdir, open, readFile, rename, stat, unlink } from 'node:fs/promises'
import { join } from 'node:path'
import { type Damage, damage } from '../machines/contract/damage.ts'

/**
 * Pictures of jobs, each kept once under the hash of its bytes: what the log names can never be
 * another picture, and a name from outside is never part of a path.
 */

/** The image types that every browser draws. Others (SVG among them: it may carry scripts) are not taken. */
export type PhotoType = 'image/jpeg' | 'image/png' | 'image/webp'

export type Photos = {
  /**
   * Keeps a picture.
   * @param bytes as sent; what they say of themselves, not their name, makes them an image
   * @returns the SHA-256 of the bytes in lower-case hex, once they are on the disk; null for bytes that are not an image
   */
  readonly keep: (bytes: Uint8Array) => Promise<string | null>
  /** Puts a picture under its name, also where other bytes lie there. */
  readonly replace: (photo: string, bytes: Uint8Array) => Promise<void>
  /** Whether a picture is kept under this name. */
  readonly has: (photo: string) => boolean
  /** @returns null for a name that is not a hash, and for a picture that is not here */
  readonly find: (
    photo: string,
  ) => Promise<{ readonly bytes: Uint8Array; readonly type: PhotoType } | null>
  /** What is wrong with a picture; null for one that is as it was kept. */
  readonly faultOf: (photo: string) => Promise<Damage | null>
  /** Whether nothing at all lies under a picture's name. */
  readonly isLost: (photo: string) => Promise<boolean>
}

/** The most that one picture may have: 10 MB. */
export const PHOTO_MOST_BYTES = 10_000_000

const HASH = /^[0-9a-f]{64}$/
const hashOf = (bytes: Uint8Array) => new Bun.CryptoHasher('sha256').update(bytes).digest('hex')

const SIGNATURES: readonly (readonly [PhotoType, readonly (readonly [number, string])[]])[] = [
  // JFIF, EXIF and bare streams alike: start of image, then any marker.
  ['image/jpeg', [[0, '\xff\xd8\xff']]],
  ['image/png', [[0, '\x89PNG\r\n\x1a\n']]],
  [
    'image/webp',
    [
      [0, 'RIFF'],
      [8, 'WEBP'],
    ],
  ],
]

/** What the first bytes say: a name or a Content-Type can say anything. */
export function photoType(bytes: Uint8Array): PhotoType | null {
  const says = ([at, text]: readonly [number, string]) =>
    [...text].every((letter, i) => bytes[at + i] === letter.charCodeAt(0))
  return SIGNATURES.find(([, parts]) => parts.every(says))?.[0] ?? null
}

/** @param folder where the pictures lie; it is made with the first of them */
export function photosIn(folder: string): Photos {
  const fileOf = (photo: string) => join(folder, photo)
  return {
    async keep(bytes) {
      if (photoType(bytes) === null) return null
      const photo = hashOf(bytes)
      if (await isThere(fileOf(photo))) return photo
      await mkdir(folder, { recursive: true })
      await writeWhole(folder, fileOf(photo), bytes)
      return photo
    },
    async replace(photo, bytes) {
      await mkdir(folder, { recursive: true })
      await writeWhole(folder, fileOf(photo), bytes)
    },
    has: (photo) => HASH.test(photo) && existsSync(fileOf(photo)),
    async find(photo) {
      if (!HASH.test(photo)) return null
      const bytes = await readIfThere(fileOf(photo))
      const type = bytes && photoType(bytes)
      return bytes && type ? { bytes, type } : null
    },
    isLost: async (photo) => HASH.test(photo) && !existsSync(fileOf(photo)),
    async faultOf(photo) {
      if (!HASH.test(photo)) return damage('photoName', { said: JSON.stringify(photo) })
      const file = fileOf(photo)
      try {
        const bytes = await readIfThere(file)
        if (bytes === null) return damage('photoMissing', { file })
        const hash = hashOf(bytes)
        return hash === photo ? null : damage('photoBytes', { file, hash })
      } catch (error) {
        return damage('photoUnreadable', { file, said: String(error) })
      }
    },
  }
}

/** Under a name of its own first: a picture that is there at all is there whole, whatever was killed. */
async function writeWhole(folder: string, file: string, bytes: Uint8Array): Promise<void> {
  const partial = join(folder, `${crypto.randomUUID()}.part`)
  try {
    const handle = await open(partial, 'wx')
    try {
      await handle.writeFile(bytes)
      await handle.sync()
    } finally {
      await handle.close()
    }
    await rename(partial, file)
    await synced(folder)
  } catch (error) {
    await unlink(partial).catch(() => {})
    throw error
  }
}

/** The new name must outlive a power cut too. */
async function synced(folder: string): Promise<void> {
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

const isMissing = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ENOENT'

async function isThere(file: string): Promise<boolean> {
  try {
    return (await stat(file)).isFile()
  } catch (error) {
    if (isMissing(error)) return false
    throw error
  }
}

async function readIfThere(file: string): Promise<Uint8Array | null> {
  try {
    return await readFile(file)
  } catch (error) {
    if (isMissing(error)) return null
    throw error
  }
}
