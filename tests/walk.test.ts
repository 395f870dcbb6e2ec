import { existsSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

/** The walk of one press in DEVELOPERS.md is what the program does. */

const ROOT = fileURLToPath(new URL('../', import.meta.url))
const read = (path: string) => readFileSync(join(ROOT, path), 'utf8')

type Hop = { readonly path: string; readonly says: string }

function hops(): Hop[] {
  const [, section = ''] = read('DEVELOPERS.md').split('### A press on its way, there and back')
  const [walk = ''] = section.split('\n### ')
  return [...walk.matchAll(/^\d+\. `([^`]+)`: (.*)$/gm)].map(([, path = '', says = '']) => ({
    path,
    says,
  }))
}

/** The files that a file imports, as paths from the root. */
function importsOf(path: string): string[] {
  const found = read(path).matchAll(/(?:from|import)\s*\(?\s*'(\.[^']+)'/g)
  return [...found].map(([, to = '']) => relative(ROOT, join(ROOT, dirname(path), to)))
}

const isImported = (a: string, b: string) => importsOf(a).includes(b) || importsOf(b).includes(a)

/** The address of a call that a hop makes or answers. */
const addressIn = ({ says }: Hop): string | undefined =>
  /over HTTP, [A-Z]+ `([^`]+)`/.exec(says)?.[1]

function isJoined(hop: Hop, earlier: readonly Hop[]): boolean {
  const address = addressIn(hop)
  if (address === undefined) return earlier.some(({ path }) => isImported(hop.path, path))
  const names = ({ path }: Hop) => read(path).includes(address)
  return names(hop) && earlier.some(names)
}

test('the walk names files that are there, each once, from the touch to the bell', () => {
  const paths = hops().map(({ path }) => path)
  expect(paths.length).toBeGreaterThan(30)
  expect(new Set(paths).size).toBe(paths.length)
  expect(paths.filter((path) => !existsSync(join(ROOT, path)))).toEqual([])
  for (const folder of ['kiosk/', 'server/', 'machines/'])
    expect(paths.some((path) => path.startsWith(folder))).toBe(true)
})

test('every hop is joined to one above it: by an import, or by the address that both name', () => {
  const all = hops()
  const loose = all.filter((hop, i) => i > 0 && !isJoined(hop, all.slice(0, i)))
  expect(loose.map(({ path }) => path)).toEqual([])
})

test('files that are named in passing lie in the folder of a hop', () => {
  const all = hops()
  const folders = new Set(all.map(({ path }) => dirname(path)))
  const named = all.flatMap(({ path, says }) =>
    [...says.matchAll(/`([\w]+\.tsx?)`/g)].map(([, name = '']) => ({ path, name })),
  )
  expect(named.length).toBeGreaterThan(2)
  const missing = named.filter(
    ({ name }) => ![...folders].some((folder) => existsSync(join(ROOT, folder, name))),
  )
  expect(missing).toEqual([])
})
