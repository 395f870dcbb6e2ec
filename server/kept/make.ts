import { existsSync } from 'node:fs'
import { mkdir, mkdtemp, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { hashOfSources } from '../kioskFiles.ts'
import { COMPILED_FILE, DIGEST_FILE, digestOf, folderNow, isKept, PROGRAM_FILE } from './program.ts'

/** Makes the program that the next start finds. Run by itself, it makes the one of its own sources. */

const ENTRY = fileURLToPath(new URL('../program.ts', import.meta.url))
/** Draw labels, on their own thread and from their own packages; one of them is no script. */
const OUTSIDE = ['@resvg/*', 'bwip-js', 'bwip-js/*', 'opentype.js']

/**
 * Builds the program of the sources as they are now and keeps it, unless it is kept already. What was kept of
 * other sources is removed.
 * @param folder where; named by the stamp of the sources
 * @throws when it does not build or cannot be written
 */
export async function keepProgram(folder = folderNow()): Promise<void> {
  if (isKept(folder)) return
  const keptIn = dirname(folder)
  await mkdir(keptIn, { recursive: true })
  // Made whole under another name first: a start that looks meanwhile finds all or nothing.
  const partial = await mkdtemp(join(keptIn, 'partial-'))
  try {
    await build(partial)
    await rm(folder, { recursive: true, force: true })
    await rename(partial, folder)
  } finally {
    await rm(partial, { recursive: true, force: true })
  }
  const others = (await readdir(keptIn)).filter((name) => name !== basename(folder))
  const old = others.filter((name) => !name.startsWith('partial-'))
  await Promise.all(old.map((name) => rm(join(keptIn, name), { recursive: true, force: true })))
}

async function build(folder: string): Promise<void> {
  await Bun.build({
    ...{ entrypoints: [ENTRY], outdir: folder, naming: PROGRAM_FILE },
    // Only this form can be compiled ahead.
    ...{ target: 'bun', format: 'cjs', bytecode: true, external: OUTSIDE },
    // Names stay, and lines are those of the sources, for whoever reads where a fault came from.
    ...{ minify: { whitespace: true }, sourcemap: 'linked' },
    // The packages as they run from their sources; else the bundler takes what they have for developers.
    define: {
      'process.env.NODE_ENV': '"production"',
      KIOSK_SOURCES: JSON.stringify(hashOfSources()),
    },
  })
  // The bundler says nothing where it could not compile what it bundled.
  if (!existsSync(join(folder, COMPILED_FILE))) throw new Error('The program was not compiled.')
  const files = [PROGRAM_FILE, COMPILED_FILE].map((name) => readFile(join(folder, name)))
  await writeFile(join(folder, DIGEST_FILE), digestOf(await Promise.all(files)))
}

if (import.meta.main) await keepProgram()
