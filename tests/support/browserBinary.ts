import { accessSync, constants, existsSync, mkdtempSync, renameSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import packageJson from '../../package.json' with { type: 'json' }

/** A Chromium to start: its file, and the environment that it needs. */
export type FoundChromium = {
  readonly executablePath: string
  readonly env: Record<string, string | undefined>
}

/**
 * The browser of the tests. $FLASHBELL_BROWSER chooses: `npm` the packed one among the dependencies,
 * which needs nobody's permission, `system` one on the PATH (or $CHROMIUM). Without it the system's
 * is taken where there is one.
 * @throws where the chosen one is missing
 */
export async function findChromium(): Promise<FoundChromium> {
  const { FLASHBELL_BROWSER: chosen, CHROMIUM } = process.env
  if (chosen !== undefined && chosen !== 'npm' && chosen !== 'system')
    throw new Error(`FLASHBELL_BROWSER: "${chosen}" won't work. Use npm or system.`)
  const system = chosen === 'npm' ? undefined : (CHROMIUM ?? onPath('chromium', 'chromium-browser'))
  if (system !== undefined) return { executablePath: system, env: process.env }
  if (chosen === 'system')
    throw new Error('FLASHBELL_BROWSER was system, and there is no chromium on the PATH.')
  return packed()
}

function onPath(...names: readonly string[]): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter)
  return names.flatMap((name) => folders.map((folder) => join(folder, name))).find(isExecutable)
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}

/** The packed browser brings its libraries along: a machine without a browser has none of them. */
async function packed(): Promise<FoundChromium> {
  const version = packageJson.devDependencies['@sparticuz/chromium']
  const folder = join(tmpdir(), `flashbell-chromium-${version}`)
  if (!existsSync(folder)) await unpackTo(folder)
  return {
    executablePath: join(folder, 'chromium'),
    env: { ...process.env, LD_LIBRARY_PATH: join(folder, 'al2023', 'lib') },
  }
}

/**
 * Unpacks beside the folder and renames, so that a run that was killed leaves no half a browser and
 * two runs that start at once need no lock. The package looks for the folder of temporary files,
 * and unpacks the libraries only where it is set to run on a machine that lacks them.
 */
async function unpackTo(folder: string): Promise<void> {
  const beside = mkdtempSync(`${folder}-`)
  const code = "await (await import('@sparticuz/chromium')).default.executablePath()"
  const child = Bun.spawn([process.execPath, '-e', code], {
    cwd: import.meta.dir,
    env: { ...process.env, TMPDIR: beside, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs22.x' },
    stderr: 'pipe',
  })
  const said = await new Response(child.stderr).text()
  if ((await child.exited) !== 0) throw new Error(`The packed browser was not unpacked: ${said}`)
  try {
    renameSync(beside, folder)
  } catch (error) {
    rmSync(beside, { recursive: true, force: true })
    // Another run was quicker.
    if (!existsSync(folder)) throw error
  }
}
