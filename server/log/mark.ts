import { closeSync, fdatasync, fsyncSync, openSync, readFileSync, writeSync } from 'node:fs'
import { keptText, readKept } from './keptJson.ts'

/**
 * The mark beside the log: how far it reached. A log that was cut, emptied or replaced does not show
 * it by itself; the mark, which lies in a file of its own, does.
 */
export type Mark = {
  readonly shop: string
  readonly head: number
  /** Of the entry at the head. */
  readonly hash: string
  /** The shop's time when this was written, UTC ms. */
  readonly atMs: number
}

/** What the file holds: the mark, and one that the log did not reach and nobody has dismissed yet. */
export type KeptMark = { readonly mark: Mark; readonly missed: Mark | null }

export type MarkFile = {
  /** Written, not synced: a kill loses nothing of it, a power cut loses the last second. */
  readonly put: (kept: KeptMark) => void
  /** To be called every second or so. */
  readonly sync: () => Promise<void>
  readonly close: () => void
}

/** Two places, written in turn: a write that a power cut tore leaves the one before it whole. */
const PLACE_BYTES = 1_024
type Written = { readonly count: number; readonly kept: KeptMark }

function newestIn(path: string): Written | null {
  let bytes: Buffer
  try {
    bytes = readFileSync(path)
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null
    throw error
  }
  const read = [0, 1].map((place) =>
    readKept<Written>(
      bytes.subarray(place * PLACE_BYTES, (place + 1) * PLACE_BYTES).toString('utf8'),
    ),
  )
  const whole = read.flatMap((one) => (one === null ? [] : [one.value]))
  return whole.sort((a, b) => b.count - a.count)[0] ?? null
}

/** The mark as last written; null where there is none, or none that can be read. */
export const readMark = (path: string): KeptMark | null => newestIn(path)?.kept ?? null

/** Opens the file for writing, and makes it where there is none. */
export function openMark(path: string): MarkFile {
  let count = newestIn(path)?.count ?? 0
  const file = openSync(path, count === 0 ? 'w+' : 'r+')
  let isDirty = false
  let isClosed = false
  return {
    put(kept) {
      count += 1
      const bytes = Buffer.from(keptText({ count, kept }).padEnd(PLACE_BYTES))
      writeSync(file, bytes, 0, PLACE_BYTES, (count % 2) * PLACE_BYTES)
      isDirty = true
    },
    async sync() {
      if (!isDirty) return
      isDirty = false
      await new Promise<void>((done, failed) => {
        // Closed meanwhile: that has synced all of it, and the file is no longer there to be asked.
        fdatasync(file, (error) => (error && !isClosed ? failed(error) : done()))
      })
    },
    close() {
      isClosed = true
      fsyncSync(file)
      closeSync(file)
    },
  }
}
