import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'

const root = join(import.meta.dirname, '..', '..', '..')
const IMPORTS = 'lint/style/noRestrictedImports'
const GLOBALS = 'lint/style/noRestrictedGlobals'
/** Ours, in .biome: randomness and promises. */
const PLUGIN = 'plugin'
const CYCLES = 'lint/suspicious/noImportCycles'
const FLOATING = 'lint/nursery/noFloatingPromises'

const use = (from: string): string => `import { x } from '${from}'\n\nexport const y = x\n`
const now = (expression: string): string => `export const x = () => ${expression}\n`
const forgotten =
  'export async function save(): Promise<void> {}\nexport function go(): void {\n  save()\n}\n'

/** A file, its content, and the rule that must refuse it. */
type Wrong = readonly [path: string, text: string, rule: string]
const WRONG: readonly Wrong[] = [
  ['machines/fs.ts', use('node:fs'), IMPORTS],
  ['machines/bareFs.ts', use('fs'), IMPORTS],
  ['machines/sqlite.ts', use('bun:sqlite'), IMPORTS],
  ['machines/hono.ts', use('hono'), IMPORTS],
  ['machines/server.ts', use('../server/log.ts'), IMPORTS],
  ['machines/panel/server.ts', use('../../server/log.ts'), IMPORTS],
  ['machines/kiosk.ts', use('../kiosk/device/clock.ts'), IMPORTS],
  ['machines/labels.ts', use('../labels/code.ts'), IMPORTS],
  ['machines/tests.ts', use('../tests/support/shop.ts'), IMPORTS],
  ['machines/say.ts', use('./words/right.ts'), IMPORTS],
  ['machines/panel/say.ts', use('../words/right.ts'), IMPORTS],
  [
    'machines/panel/sayType.ts',
    "import type { X } from '../words/right.ts'\n\nexport type Y = X\n",
    IMPORTS,
  ],
  [
    'machines/typeOnly.ts',
    "import type { X } from '../server/log.ts'\n\nexport type Y = X\n",
    IMPORTS,
  ],
  ['machines/exported.ts', "export { x } from '../server/log.ts'\n", IMPORTS],
  ['machines/whole.ts', "export * from '../server/log.ts'\n", IMPORTS],
  ['machines/onTheWay.ts', now("import('../server/log.ts')"), IMPORTS],
  ['machines/date.ts', now('Date.now()'), GLOBALS],
  ['machines/newDate.ts', now('new Date()'), GLOBALS],
  ['machines/performance.ts', now('performance.now()'), GLOBALS],
  ['machines/crypto.ts', now('crypto.randomUUID()'), GLOBALS],
  ['machines/timer.ts', now('setTimeout(() => 1, 1)'), GLOBALS],
  ['machines/promise.ts', now('new Promise(() => 1)'), GLOBALS],
  ['machines/fetch.ts', now("fetch('/')"), GLOBALS],
  ['machines/process.ts', now('process.env'), GLOBALS],
  ['machines/bun.ts', now('Bun.version'), GLOBALS],
  ['machines/window.ts', now('window.name'), GLOBALS],
  ['machines/console.ts', now('console.log(1)'), GLOBALS],
  ['machines/random.ts', now('Math.random()'), PLUGIN],
  ['machines/randomLater.ts', 'export const x = Math.random\n', PLUGIN],
  ['machines/randomByName.ts', now("Math['random']()"), PLUGIN],
  ['machines/randomByKey.ts', 'export const x = (key: keyof Math) => Math[key]\n', PLUGIN],
  ['machines/randomTaken.ts', 'const { random } = Math\n\nexport const x = random\n', PLUGIN],
  ['machines/mathGiven.ts', 'export const x = (m = Math) => m\n', PLUGIN],
  ['machines/async.ts', 'export async function x() {\n  return 1\n}\n', PLUGIN],
  ['machines/asyncArrow.ts', 'export const x = async () => 1\n', PLUGIN],
  ['machines/asyncMethod.ts', 'export const x = {\n  async y() {\n    return 1\n  },\n}\n', PLUGIN],
  ['machines/asyncSteps.ts', 'export async function* x() {\n  yield 1\n}\n', PLUGIN],
  ['machines/await.ts', 'export const x = await 1\n', PLUGIN],
  ['machines/ownLater.ts', now("import('./right.ts')"), PLUGIN],
  ['server/floating.ts', forgotten, FLOATING],
  ['kiosk/floating.ts', forgotten, FLOATING],
  ['server/kiosk.ts', use('../kiosk/device/clock.ts'), IMPORTS],
  ['server/tests.ts', use('../tests/support/shop.ts'), IMPORTS],
  ['labels/server.ts', use('../server/log.ts'), IMPORTS],
  ['labels/kiosk.ts', use('../kiosk/device/clock.ts'), IMPORTS],
  ['kiosk/server.ts', use('../server/log.ts'), IMPORTS],
  ['kiosk/deep/server.ts', use('../../server/log.ts'), IMPORTS],
  ['kiosk/render.ts', use('../labels/render.ts'), IMPORTS],
  ['kiosk/tests.ts', use('../tests/support/shop.ts'), IMPORTS],
  ['kiosk/wall/server.ts', use('../../server/log.ts'), IMPORTS],
  ['kiosk/wall/render.ts', use('../../labels/render.ts'), IMPORTS],
  ['kiosk/wall/bench.ts', use('../bench/right.ts'), IMPORTS],
  ['kiosk/wall/benchLater.ts', now("import('../bench/right.ts')"), IMPORTS],
  [
    'kiosk/wall/benchType.ts',
    "import type { X } from '../bench/right.ts'\n\nexport type Y = X\n",
    IMPORTS,
  ],
  ['kiosk/wall/around.ts', use('../../kiosk/bench/right.ts'), IMPORTS],
  ['kiosk/wall/frame.ts', use('../frame/right.ts'), IMPORTS],
  ['kiosk/wall/main.ts', use('../main.ts'), IMPORTS],
  ['kiosk/ui/screen.ts', use('../bench/right.ts'), IMPORTS],
  ['kiosk/ui/frame.ts', use('../frame/right.ts'), IMPORTS],
  ['kiosk/bells/sound/screen.ts', use('../../bench/right.ts'), IMPORTS],
  ['kiosk/words/screen.ts', use('../bench/right.ts'), IMPORTS],
  ['kiosk/frame/screen.ts', use('../bench/right.ts'), IMPORTS],
  [
    'kiosk/wall/goes.ts',
    "import type { Comes } from './comes.ts'\n\nexport type Goes = Comes | 1\n",
    CYCLES,
  ],
  [
    'kiosk/wall/comes.ts',
    "import type { Goes } from './goes.ts'\n\nexport type Comes = Goes[]\n",
    CYCLES,
  ],
  ['server/any.ts', 'export const x: any = 1\n', 'lint/suspicious/noExplicitAny'],
  [
    'server/ignored.ts',
    "// @ts-ignore\nexport const x: number = 'a'\n",
    'lint/suspicious/noTsIgnore',
  ],
  [
    'server/long.ts',
    Array.from({ length: 301 }, (_, i) => `export const x${i} = ${i}\n`).join(''),
    'lint/style/noExcessiveLinesPerFile',
  ],
]

/** What screens share. */
const KIT = ['ui', 'forms', 'units', 'commands', 'lanes', 'bells', 'device', 'words'] as const

/** What the arrows allow: nothing may be said of these. */
const RIGHT: readonly (readonly [path: string, text: string])[] = [
  ['machines/own.ts', use('./right.ts')],
  ['machines/panel/own.ts', use('../right.ts')],
  ['machines/words/own.ts', use('./right.ts')],
  ['machines/words/rules.ts', use('../right.ts')],
  ['kiosk/said.ts', use('../machines/words/right.ts')],
  ['server/said.ts', use('../machines/words/right.ts')],
  ['labels/said.ts', use('../machines/words/right.ts')],
  ['machines/xstate.ts', "import { setup } from 'xstate'\n\nexport const y = setup\n"],
  ['machines/valibot.ts', "import * as v from 'valibot'\n\nexport const y = v.string()\n"],
  ['machines/culori.ts', "import { parse } from 'culori'\n\nexport const y = parse\n"],
  ['machines/maths.ts', now('Math.max(1, 2)')],
  ['machines/mathsPlus.ts', 'export const x = (a: number) => (a > 1 ? Math.PI : 0)\n'],
  ['machines/asyncName.ts', 'export const x = {\n  asyncThing() {\n    return 1\n  },\n}\n'],
  ['server/async.ts', 'export const x = async () => 1\n'],
  ['labels/machines.ts', use('../machines/right.ts')],
  ['server/labels.ts', use('../labels/right.ts')],
  ['server/machines.ts', use('../machines/right.ts')],
  ['server/date.ts', now('Date.now()')],
  ['kiosk/machines.ts', use('../machines/right.ts')],
  ['kiosk/code.ts', use('../labels/code.ts')],
  ['kiosk/layout.ts', use('../labels/layout.ts')],
  ['kiosk/seal.ts', use('../labels/seal.ts')],
  ['kiosk/wall/machines.ts', use('../../machines/right.ts')],
  ['kiosk/wall/code.ts', use('../../labels/code.ts')],
  ['kiosk/wall/layout.ts', use('../../labels/layout.ts')],
  ['kiosk/wall/seal.ts', use('../../labels/seal.ts')],
  ['kiosk/wall/own.ts', use('./right.ts')],
  ...KIT.map((part) => [`kiosk/wall/${part}.ts`, use(`../${part}/right.ts`)] as const),
  ['kiosk/ui/clock.ts', use('../device/clock.ts')],
  ['kiosk/frame/kit.ts', use('../ui/right.ts')],
  ['kiosk/bells/sound/machines.ts', use('../../../machines/right.ts')],
  ['kiosk/screens.ts', use('./bench/right.ts')],
  [
    'server/awaited.ts',
    forgotten
      .replace('function go(): void', 'async function go(): Promise<void>')
      .replace('  save()', '  await save()'),
  ],
]

/** Stand-ins that the fixtures import, so that only the arrow is wrong. */
const THERE = [
  'machines/right.ts',
  'machines/words/right.ts',
  'labels/right.ts',
  'labels/code.ts',
  'labels/layout.ts',
  'labels/seal.ts',
  'labels/render.ts',
  'server/log.ts',
  'kiosk/device/clock.ts',
  'kiosk/main.ts',
  ...[...KIT, 'wall', 'bench', 'frame'].map((part) => `kiosk/${part}/right.ts`),
  'tests/support/shop.ts',
]

const folder = mkdtempSync(join(tmpdir(), 'lint-'))
afterAll(() => rmSync(folder, { recursive: true }))

function write(path: string, text: string): void {
  mkdirSync(dirname(join(folder, path)), { recursive: true })
  writeFileSync(join(folder, path), text)
}

type Report = { diagnostics: { category: string; severity: string; location: { path: string } }[] }

/** The project's own rules, run over the fixtures: what is said, by file. */
function lint(): ReadonlyMap<string, readonly string[]> {
  for (const name of ['biome.json', '.biome', 'package.json']) {
    cpSync(join(root, name), join(folder, name), { recursive: true })
  }
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'))
  for (const path of THERE) write(path, 'export const x = 1\nexport type X = number\n')
  for (const [path, text] of [...WRONG, ...RIGHT]) write(path, text)
  const biome = join(root, 'node_modules', '@biomejs', 'biome', 'bin', 'biome')
  const args = ['lint', '--vcs-enabled=false', '--reporter=json', '--max-diagnostics=none', '.']
  const done = spawnSync(process.execPath, [biome, ...args], { cwd: folder, encoding: 'utf8' })
  const report = JSON.parse(done.stdout) as Report
  const said = new Map<string, string[]>()
  for (const { category, severity, location } of report.diagnostics) {
    // As in `npm test`: a warning stops it too, a hint does not.
    if (severity !== 'error' && severity !== 'warning') continue
    said.set(location.path, [...(said.get(location.path) ?? []), category])
  }
  return said
}
const said = lint()

describe('the linter', () => {
  test.each(WRONG)('refuses %s', (path, _, rule) => {
    expect(said.get(path)).toContain(rule)
  })

  test.each(RIGHT)('has nothing to say of %s', (path) => {
    expect(said.get(path)).toBeUndefined()
  })
})
