import { readFile } from 'node:fs/promises'
import { dirname, resolve } from 'node:path'

/**
 * A bundler puts what several screens share into as many small files as there are sets of screens that share
 * it, and a slow device pays for each. But whatever the page itself imports is there before any screen is
 * opened: so each file that is fetched later is read as if it imported all of that too. Then all have
 * the same set, and the page comes as one script.
 */

type Imports = { readonly now: readonly string[]; readonly later: readonly string[] }

const isSource = (path: string): boolean => /^\.{1,2}\/.*\.tsx?$/.test(path)

async function importsOf(file: string): Promise<Imports> {
  const loader = file.endsWith('x') ? 'tsx' : 'ts'
  const found = new Bun.Transpiler({ loader }).scanImports(await readFile(file))
  const of = (kind: Bun.ImportKind) =>
    found
      .filter((one) => one.kind === kind && isSource(one.path))
      .map(({ path }) => resolve(dirname(file), path))
  return { now: of('import-statement'), later: of('dynamic-import') }
}

/** Every file that is fetched later, by whichever file. */
async function fetchedLater(main: string): Promise<ReadonlySet<string>> {
  const later = new Set<string>()
  const all = new Set([main])
  // A set goes on to what is added on the way.
  for (const file of all) {
    const imports = await importsOf(file)
    for (const one of imports.later) later.add(one)
    for (const one of [...imports.now, ...imports.later]) all.add(one)
  }
  return later
}

/** @param main the page's composition root; it is not imported itself, as it waits while it starts */
export const together = (main: string): Bun.BunPlugin => ({
  name: 'together',
  async setup(build) {
    const later = await fetchedLater(main)
    const { now } = await importsOf(main)
    const first = now.map((file) => `import ${JSON.stringify(file)};`).join('')
    build.onLoad({ filter: /\.tsx?$/, namespace: 'file' }, async ({ path }) => {
      const contents = await readFile(path, 'utf8')
      const loader = path.endsWith('x') ? 'tsx' : 'ts'
      return { contents: later.has(path) ? first + contents : contents, loader }
    })
  },
})
