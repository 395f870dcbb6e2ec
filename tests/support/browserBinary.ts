import { accessSync, constants, mkdirSync, rmdirSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'

/** Test files start at once and the packed browser unpacks to one place: one of them does, the others wait. */
const LOCK = join(tmpdir(), 'flashbell-chromium.lock')
/** A lock this old belongs to a run that was killed. */
const STALE_MS = 120_000

/** $CHROMIUM, else one on the PATH, else the one from npm, which needs nobody's permission. */
export async function findChromium(): Promise<string> {
  const found = process.env.CHROMIUM ?? onPath('chromium') ?? onPath('chromium-browser')
  return found ?? unpacked()
}

function onPath(name: string): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter)
  return folders.map((folder) => join(folder, name)).find(isExecutable)
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}

async function unpacked(): Promise<string> {
  const { default: packed } = await import('@sparticuz/chromium')
  while (!takeLock()) await new Promise((again) => setTimeout(again, 200))
  try {
    return await packed.executablePath()
  } finally {
    rmdirSync(LOCK)
  }
}

function takeLock(): boolean {
  try {
    mkdirSync(LOCK)
    return true
  } catch {
    if (isStale()) rmdirSync(LOCK)
    return false
  }
}

function isStale(): boolean {
  const made = statSync(LOCK, { throwIfNoEntry: false })
  return made !== undefined && Date.now() - made.mtimeMs > STALE_MS
}
