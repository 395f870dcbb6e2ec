// Plain Node, so that a fresh clone needs nothing but Node and npm: installs what is missing and
// finds the Bun that package.json pins.
import { spawnSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const require = createRequire(join(root, 'package.json'))

function installed(name) {
  try {
    return JSON.parse(readFileSync(join(root, 'node_modules', name, 'package.json'), 'utf8'))
      .version
  } catch {
    return null
  }
}

function isComplete() {
  const { dependencies, devDependencies } = require('./package.json')
  return Object.entries({ ...dependencies, ...devDependencies }).every(
    ([name, version]) => installed(name) === version,
  )
}

function answersAs(bun, version) {
  const asked = spawnSync(bun, ['--version'], { encoding: 'utf8' })
  return asked.status === 0 && asked.stdout.trim() === version
}

/**
 * Installs the packages of package-lock.json when one is missing or of another version.
 * What npm says goes to standard error: standard output belongs to the command.
 * @returns the path of a Bun of the pinned version; the process ends with a sentence when there is none
 */
export function ensureBun() {
  if (!isComplete()) {
    process.stderr.write('Installing packages (npm ci) ...\n')
    const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm'
    const done = spawnSync(npm, ['ci', '--no-audit', '--no-fund'], {
      cwd: root,
      stdio: ['ignore', process.stderr.fd, process.stderr.fd],
      shell: process.platform === 'win32',
    })
    if (done.status !== 0) fail('npm ci failed; its words stand above.')
  }
  const pinned = require('./package.json').dependencies.bun
  const own = join(root, 'node_modules', 'bun', 'bin', 'bun.exe')
  if (existsSync(own) && answersAs(own, pinned)) return own
  // Without install scripts the package holds a stub; its own installer puts the binary in place.
  spawnSync(process.execPath, [join(root, 'node_modules', 'bun', 'install.js')], {
    cwd: join(root, 'node_modules', 'bun'),
    stdio: ['ignore', process.stderr.fd, process.stderr.fd],
  })
  if (existsSync(own) && answersAs(own, pinned)) return own
  if (answersAs('bun', pinned)) return 'bun'
  return fail(`Bun ${pinned} could not be started. Run "npm ci" and read what it says about bun.`)
}

function fail(sentence) {
  process.stderr.write(`${sentence}\n`)
  process.exit(1)
}
