import { mkdirSync, readdirSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { photosIn } from '../photos.ts'

/** Pictures into a folder that has them each once, under the hash of their bytes. */

export type PhotoCopy = {
  readonly copied: number
  /** Neither there nor, as it was kept, where it should come from. */
  readonly missing: readonly string[]
}

const DAY_MS = 86_400_000
const sizeOf = (path: string): number | null =>
  statSync(path, { throwIfNoEntry: false })?.size ?? null

/**
 * Copies those that are not there yet. One that is there with as many bytes is not read again: its
 * bytes were checked when it was written.
 * @param photos names, each once
 * @param progress called now and then with how many are done
 */
export async function copyPhotos(
  photos: readonly string[],
  { from, to, now }: { readonly from: string; readonly to: string; readonly now: number },
  progress: (done: number) => void,
): Promise<PhotoCopy> {
  const [source, target] = [photosIn(from), photosIn(to)]
  const missing: string[] = []
  let copied = 0
  if (photos.length > 0) removeLeft(to, now)
  for (const [done, photo] of photos.entries()) {
    if (done % 50 === 0) progress(done)
    const there = sizeOf(join(to, photo))
    const here = sizeOf(join(from, photo))
    if (there !== null && (here === null || there === here)) continue
    const kept = (await source.faultOf(photo)) === null ? await source.find(photo) : null
    if (kept) {
      await target.replace(photo, kept.bytes)
      copied += 1
    } else if (there === null) missing.push(photo)
  }
  progress(photos.length)
  return { copied, missing }
}

/** What a copy that was ended in the middle has left: of a day ago, so that none is under way. */
function removeLeft(folder: string, now: number): void {
  mkdirSync(folder, { recursive: true })
  for (const name of readdirSync(folder)) {
    const path = join(folder, name)
    if (name.endsWith('.part') && statSync(path).mtimeMs < now - DAY_MS) rmSync(path)
  }
}
