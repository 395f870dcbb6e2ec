import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'

/**
 * A reader has this repository and nothing else. A comment that gives the number of a requirement, or
 * the name of a document that is not here, tells that reader nothing: the reason has to be in words.
 */

const ROOT = join(import.meta.dirname, '..')
/** Written by people or tools and kept; everything else at the top is fetched or built. */
const FOLDERS = ['kiosk', 'labels', 'machines', 'server', 'tests']
const TOP = readdirSync(ROOT, { withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name !== 'package-lock.json')
  .map(({ name }) => name)
const OWN = join('tests', 'documents.test.ts')
const PICTURES = /\.(?:png|jpg|wasm|woff2?)$/

const REQUIREMENT = /\b(?:AL|TG|LB|TL|PR)-\d{1,2}\b/
const DOCUMENT = /\b(?:DESIGN|HUMAN|STYLE|RULES|PERF|STACK)\b/

const files = [
  ...TOP,
  ...FOLDERS.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name).slice(ROOT.length + 1)),
  ),
].filter((file) => file !== OWN && !PICTURES.test(file))

/** The lines of a file that point outside the repository, as "file:line: text". */
const pointersIn = (file: string): string[] =>
  readFileSync(join(ROOT, file), 'utf8')
    .split('\n')
    .map((line, i) => ({ line, at: `${file}:${i + 1}: ${line.trim()}` }))
    .filter(({ line }) => REQUIREMENT.test(line) || DOCUMENT.test(line))
    .map(({ at }) => at)

test('the patterns find a requirement’s number and a document’s name', () => {
  // Put together here: no file is to hold such a number, this one neither.
  expect(`a label is on the cup (${['LB', '07'].join('-')})`).toMatch(REQUIREMENT)
  expect('the order of entries, DESIGN 3').toMatch(DOCUMENT)
  expect('WCAG 2.2 SC 2.5.8, ISO 8201, EN ISO 9514').not.toMatch(REQUIREMENT)
})

test('no file points to a document that is not in the repository', () => {
  expect(files.length).toBeGreaterThan(500)
  expect(files.flatMap(pointersIn)).toEqual([])
})
