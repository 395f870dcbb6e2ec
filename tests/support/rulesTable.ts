import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/**
 * The sentences of the rules, each with the tests that show it. A table is written as text:
 *
 *     A sentence, or the first part of one.
 *       = FILE: TITLE        a test that fails when it is broken
 *       @ FILE: TITLE        one that shows the edge of its figure: one before, exactly at
 *       @ none: WHY          its figure has no edge
 *       ~ WHY                it explains, and asks for nothing
 *     + the next part of the same sentence
 */

const TESTS = join(import.meta.dirname, '..')
export const RULES_FILE = join(TESTS, 'reference', 'rules.md')
export const DETAILS_FILE = join(TESTS, 'reference', 'details.md')

export type Shown = { readonly file: string; readonly title: string }
export type Part = {
  readonly text: string
  readonly section: string
  readonly isNewSentence: boolean
  readonly by: readonly Shown[]
  readonly edges: readonly Shown[]
  /** Why it has no test: it explains. */
  readonly explains: string | null
}

const shownIn = (line: string): Shown => {
  const cut = line.indexOf(': ')
  return { file: line.slice(4, cut), title: line.slice(cut + 2) }
}

/** Words as they follow each other, whatever the lines and the signs of a list. */
export const inWords = (text: string): string =>
  text
    .replace(/<!--[\s\S]*?-->/g, '')
    .replace(/^- /gm, '')
    .split(/\s+/)
    .filter((word) => word !== '')
    .join(' ')

/** The parts of one table. @throws where a line is none of those above */
export function partsOf(table: string): Part[] {
  const parts: Part[] = []
  let section = ''
  for (const line of table.split('\n').filter((one) => one !== '')) {
    if (line.startsWith('#')) section = line
    const last = parts.at(-1)
    if (!line.startsWith('  ')) {
      const isHeading = line.startsWith('#')
      const isNewSentence = !line.startsWith('+ ')
      const text = isNewSentence ? line : line.slice(2)
      const explains = isHeading ? 'heading' : null
      parts.push({
        text,
        section,
        isNewSentence: isNewSentence && !isHeading,
        by: [],
        edges: [],
        explains,
      })
      continue
    }
    if (!last || !/^ {2}[=@~] ./.test(line)) throw new Error(`not a line of a table: ${line}`)
    const more =
      line[2] === '~'
        ? { explains: line.slice(4) }
        : line[2] === '='
          ? { by: [...last.by, shownIn(line)] }
          : { edges: [...last.edges, shownIn(line)] }
    parts[parts.length - 1] = { ...last, ...more }
  }
  return parts
}

/** The tables of a folder, in the order of their names, as one. */
export const tablesIn = (folder: string): Part[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.txt'))
    .sort()
    .flatMap((name) => partsOf(readFileSync(join(folder, name), 'utf8')))

const TITLE = /(?:\b(?:test|it)((?:\.\w+)*)|\))\(\s*(['"`])((?:\\.|(?!\2).)*)\2\s*,/gs
const SKIPPED = /\b(?:test|it|describe)(?:\.\w+)*\.(?:skip|todo|skipIf|runIf|fails|only)\b/

const withoutComments = (source: string): string =>
  source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '')

/** Titles of the tests in a source, as they are written there. */
export function titlesIn(source: string): string[] {
  return [...withoutComments(source).matchAll(TITLE)].map(([, , , title = '']) =>
    title.replace(/\\(['"`])/g, '$1'),
  )
}

const sources = new Map<string, string>()
function sourceOf(file: string): string {
  const path = join(TESTS, file.endsWith('.json') ? file : `${file}.ts`)
  const known = sources.get(path) ?? readFileSync(path, 'utf8')
  sources.set(path, known)
  return known
}

/** What is wrong with a test that a table names; null where it is there and runs. */
export function wrongWith({ file, title }: Shown): string | null {
  let source: string
  try {
    source = sourceOf(file)
  } catch {
    return `${file}: no such file`
  }
  if (file.endsWith('.json')) {
    // A line of a scenario is named by why it is expected.
    const lines = (JSON.parse(source) as { lines: readonly (readonly unknown[])[] }).lines
    return lines.some((line) => line[4] === title) ? null : `${file}: no line "${title}"`
  }
  if (SKIPPED.test(withoutComments(source))) return `${file}: a test is skipped`
  return titlesIn(source).includes(title) ? null : `${file}: no test "${title}"`
}
