import { check } from '../machines/accept.ts'
import { sheetFileOf, sheetFileSchema } from '../machines/sheet/file.ts'
import { hasLog, Usable } from './data.ts'
import { jsonIn } from './jsonFile.ts'
import { stateOfFolder } from './readFolder.ts'
import { inEnglish } from './say.ts'

/**
 * `flashbell sheets`: the shop's sheets as the file that GET /api/sheets gives. `flashbell sheets check
 * FILE`: whether a file may be imported, and of each wrong field a sentence.
 */

/** What it reaches of the command line. */
type Edge = {
  readonly out: (text: string) => void
  readonly err: (text: string) => void
  /** UTC ms. */
  readonly now: () => number
}

/** @returns the exit code, or what was asked for wrongly */
export async function sheetsCommand(
  words: readonly string[],
  data: string,
  io: Edge,
): Promise<number | { readonly wrong: string }> {
  const [name, file, ...rest] = words
  const [extra] = rest
  if (extra !== undefined) return { wrong: `${extra} is one word too many.` }
  if (name === undefined) return await printed(data, io)
  if (name !== 'check')
    return { wrong: `sheets ${name} is nothing. Use sheets or sheets check FILE.` }
  return file === undefined
    ? { wrong: 'sheets check wants the name of a file.' }
    : checked(file, io)
}

async function printed(data: string, io: Edge): Promise<number> {
  if (!hasLog(data)) throw new Usable(`There is no log in ${data}. Name its folder with --data.`)
  const { state } = await stateOfFolder(data, io.now())
  io.out(`${JSON.stringify(sheetFileOf(state), null, 2)}\n`)
  return 0
}

function checked(file: string, io: Edge): number {
  const read = jsonIn(file, 'a file as flashbell sheets prints it')
  if (typeof read === 'string') {
    io.err(`${read}\n`)
    return 2
  }
  const found = check(sheetFileSchema, read.input)
  if (found.ok) {
    const { length } = found.value.sheets
    io.out(`${length} ${length === 1 ? 'sheet' : 'sheets'}, and every field is right.\n`)
    return 0
  }
  for (const { message } of inEnglish(io.now()).fields(found).errors) io.err(`${message}\n`)
  return 2
}
