import {
  appendFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { afterAll, afterEach, beforeEach, expect, test } from 'vitest'
import { keepProgram } from '../../server/kept/make.ts'
import { COMPILED_FILE, folderNow, isKept, PROGRAM_FILE } from '../../server/kept/program.ts'
import { stampOf } from '../../server/kept/stamp.ts'
import { dataFolder, ran } from '../support/serverProcess.ts'

let root = ''
let remove = () => {}

beforeEach(() => {
  const made = dataFolder()
  root = made.folder
  remove = made.remove
  for (const folder of ['kiosk', 'labels', 'machines/deep', 'server'])
    mkdirSync(join(root, folder), { recursive: true })
  for (const file of ['package.json', 'package-lock.json', 'machines/deep/one.ts'])
    writeFileSync(join(root, file), 'as it was')
})
afterEach(() => remove())

const one = () => join(root, 'machines/deep/one.ts')

test('the same sources have the same stamp', () => {
  expect(stampOf(root)).toBe(stampOf(root))
})

test.each([
  ['grows', () => appendFileSync(one(), ' and more')],
  // As long as before, and written in the same millisecond as far as a clock of milliseconds tells.
  [
    'says something else',
    () => {
      writeFileSync(one(), 'as it iz!')
      utimesSync(one(), 1_800_000_000, 1_800_000_000.001)
    },
  ],
  ['is added', () => writeFileSync(join(root, 'machines/deep/two.ts'), '')],
  ['is removed', () => rmSync(one())],
  ['of the packages changes', () => appendFileSync(join(root, 'package-lock.json'), ' ')],
  // As an editor leaves it beside a file that is open there.
  ['is locked', () => symlinkSync('nobody@nowhere', join(root, 'machines/deep/.#one.ts'))],
  ['of the kiosk is added', () => writeFileSync(join(root, 'kiosk/page.css'), '')],
])('another stamp where a file %s', (_what, change) => {
  utimesSync(one(), 1_800_000_000, 1_800_000_000)
  const before = stampOf(root)
  change()
  expect(stampOf(root)).not.toBe(before)
})

/** Where packages are found from, as from the folder of the real one. */
const keptIn = join(dirname(folderNow()), '..', `program-of-a-test-${process.pid}`)
afterAll(() => rmSync(keptIn, { recursive: true, force: true }))

test('a program is kept whole and compiled, and what was kept of other sources goes', async () => {
  const old = join(keptIn, 'of-old-sources')
  await keepProgram(old)
  const folder = join(keptIn, 'now')
  expect(isKept(folder)).toBe(false)
  await keepProgram(folder)
  expect(isKept(folder)).toBe(true)
  expect(isKept(old)).toBe(false)
  // Not what a package has for its developers: it is slower, and not what runs from the sources.
  const ONLY_FOR_DEVELOPERS = 'Could not resolve StateNode for id'
  const xstate = dirname(createRequire(import.meta.url).resolve('xstate'))
  const theirs = readdirSync(xstate).filter((name) => name.endsWith('.development.cjs.js'))
  const texts = theirs.map((name) => readFileSync(join(xstate, name), 'utf8'))
  expect(texts.some((text) => text.includes(ONLY_FOR_DEVELOPERS))).toBe(true)
  expect(readFileSync(join(folder, PROGRAM_FILE), 'utf8')).not.toContain(ONLY_FOR_DEVELOPERS)
})

test.each([PROGRAM_FILE, COMPILED_FILE])('a %s with one flipped bit is not run', async (name) => {
  const folder = join(keptIn, `damaged-${name}`)
  await keepProgram(folder)
  const file = join(folder, name)
  const bytes = readFileSync(file)
  bytes.writeUInt8(bytes.readUInt8(bytes.length >> 1) ^ 1, bytes.length >> 1)
  writeFileSync(file, bytes)
  expect(isKept(folder)).toBe(false)
  rmSync(file)
  expect(isKept(folder)).toBe(false)
  await keepProgram(folder)
  expect(isKept(folder)).toBe(true)
})

test('kept or from its sources, it says the same', async () => {
  const sources = join(import.meta.dirname, '../../server/program.ts')
  const said = async (args: readonly string[]) => {
    const script = `import(${JSON.stringify(sources)}).then(({ run }) => run(${JSON.stringify(args)})).then((code) => { process.exitCode = code })`
    const child = Bun.spawn([process.execPath, '--bun', '-e', script], {
      ...{ stdout: 'pipe', stderr: 'pipe' },
    })
    const out = await new Response(child.stdout).text()
    return { code: await child.exited, out, err: await new Response(child.stderr).text() }
  }
  expect(isKept(folderNow())).toBe(true)
  for (const args of [['calc'], ['--version'], ['calc', 'colour'], ['nothing-of-ours']])
    expect(await ran(args), args.join(' ')).toEqual(await said(args))
})
