// `npm test`: type check, lint and every test, in that order; the first failure ends it. Plain Node.
// `npm test -- NAME ...` hands names to vitest. `--long` runs the long
// runs instead, `--bench` what things cost, printed (tests/bench/bench.ts says how to read it),
// `--words` a page with every sentence of the interface.
import { spawnSync } from 'node:child_process'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { ensureBun, root } from '../server/ensure.mjs'

const bun = ensureBun()
const asked = process.argv.slice(2)
const isLong = asked.includes('--long')
const isBench = asked.includes('--bench')
const isWords = asked.includes('--words')
// The long runs try other cases every time; the seed that is printed brings them back.
const seed = process.env.FLASHBELL_SEED ?? (isLong ? `${Math.floor(1e9 * Math.random())}` : '1')
const names = asked.filter((a) => !['--long', '--bench', '--words'].includes(a))
const tool = (...path) => join(root, 'node_modules', ...path)

const tsc = (project) => [process.execPath, [tool('typescript', 'bin', 'tsc'), '-p', project]]
const bench = [['bench', bun, ['--bun', join(root, 'tests', 'bench', 'bench.ts'), ...names]]]
const words = [['words', bun, ['--bun', join(root, 'tests', 'words.ts')]]]
const steps = [
  ['type check', ...tsc('tsconfig.json')],
  ['type check of machines/ without Bun', ...tsc('tsconfig.pure.json')],
  ['type check of kiosk/ in a browser', ...tsc('tsconfig.kiosk.json')],
  ['type check of the service worker', ...tsc('tsconfig.sw.json')],
  ['type check of the browser tests', ...tsc('tests/browser/tsconfig.json')],
  [
    'lint',
    process.execPath,
    [tool('@biomejs', 'biome', 'bin', 'biome'), 'check', '--error-on-warnings', '.'],
  ],
  ['tests', bun, ['--bun', tool('vitest', 'vitest.mjs'), 'run', ...names]],
]

// What a server does is measured as a server runs it.
const engine = isBench ? createRequire(import.meta.url)('../server/engine.json') : {}

const chosen = isBench ? bench : isWords ? words : names.length > 0 ? steps.slice(-1) : steps
process.stdout.write(`\nrandom tests start from FLASHBELL_SEED=${seed}\n`)
for (const [name, command, args] of chosen) {
  process.stdout.write(`\n== ${name}\n`)
  const done = spawnSync(command, args, {
    cwd: root,
    stdio: 'inherit',
    env: {
      ...engine,
      ...process.env,
      FLASHBELL_SEED: seed,
      ...(isLong ? { FLASHBELL_LONG: '1' } : {}),
    },
  })
  if (done.status !== 0) {
    process.stderr.write(`\n${name} failed\n`)
    process.exit(done.status ?? 1)
  }
}
