import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { stampOf } from './stamp.ts'

/**
 * The program in one file, compiled ahead: 400 modules that are read and compiled one by one are two thirds of a
 * start. It is kept beside the packages, where what is kept goes with `npm ci`, and is used for these sources only.
 */

export type Program = typeof import('../program.ts')

const ROOT = join(import.meta.dirname, '..', '..')
/** One folder for each stamp of the sources. */
const KEPT_IN = join(ROOT, 'node_modules', '.cache', 'flashbell', 'program')
export const PROGRAM_FILE = 'program.js'
/** What the engine made of it; without it the file would be compiled again at each start. */
export const COMPILED_FILE = `${PROGRAM_FILE}.jsc`
export const DIGEST_FILE = 'digest'

/** The folder of the program as these sources make it. */
export const folderNow = (): string => join(KEPT_IN, stampOf(ROOT))

/** Tells a damaged file from one that is whole: the engine would run whatever it finds. */
export const digestOf = (files: readonly Uint8Array[]): string =>
  files.map((bytes) => Bun.hash(bytes).toString(36)).join(' ')

/** @returns whether the program lies in a folder, whole */
export function isKept(folder: string): boolean {
  try {
    // Where they lie: reading them into memory takes longer than looking through them.
    const files = [PROGRAM_FILE, COMPILED_FILE].map((name) => Bun.mmap(join(folder, name)))
    return readFileSync(join(folder, DIGEST_FILE), 'latin1') === digestOf(files)
  } catch {
    return false
  }
}

/** @returns the program of these sources, ready to run; null where it is not kept, or damaged */
export function keptProgram(): Program | null {
  const folder = folderNow()
  return isKept(folder) ? require(join(folder, PROGRAM_FILE)) : null
}
