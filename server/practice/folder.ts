import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { cacheFolderIn, lockFolder, StartError } from '../data.ts'

const MARK = 'practice.txt'

/**
 * Makes a new folder for the practice shop: its morning always ends now.
 * @throws StartError where the folder holds something that no practice shop left there, or is in use
 */
export function freshFolder(folder: string): void {
  // The built kiosk is there before the first morning and outlasts all of them.
  const isCache = (name: string) => name === basename(cacheFolderIn(folder))
  const holds = existsSync(folder) ? readdirSync(folder).filter((name) => !isCache(name)) : []
  if (holds.length > 0 && !holds.includes(MARK)) {
    throw new StartError({ code: 'folderForeign', params: { folder } })
  }
  lockFolder(folder).release()
  for (const name of holds) rmSync(join(folder, name), { recursive: true, force: true })
  mkdirSync(folder, { recursive: true })
  writeFileSync(join(folder, MARK), 'A practice shop of Flashbell: made again at every start.\n')
}
