import { existsSync } from 'node:fs'
import { join } from 'node:path'

/** Debian keeps what a printer needs beside the system's own programs. */
const FOLDERS = [...(process.env.PATH ?? '').split(':'), '/usr/sbin', '/usr/local/sbin']

/** Where a program of the system lies; undefined where it is not installed. */
export const systemProgram = (name: string): string | undefined =>
  FOLDERS.map((folder) => join(folder, name)).find(existsSync)
