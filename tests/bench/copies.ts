import { Database } from 'bun:sqlite'
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { logFileIn } from '../../server/data.ts'
import { sha256 } from '../../server/log/canonical.ts'
import { BUSY } from '../support/bigDay.ts'
import { writeBigLog } from '../support/bigLog.ts'
import { ran } from '../support/serverProcess.ts'
import { note, say, title } from './figures.ts'
import { part } from './table.ts'

/** What it takes to check a whole log and to keep it elsewhere. `--entries 1000000` asks it of a million. */

const VERIFY = 'the whole log verified, for each entry'
const BACKUP = 'a backup made and verified entry by entry'

async function ms(work: () => unknown): Promise<number> {
  const start = performance.now()
  await work()
  return performance.now() - start
}

/** What no check of a chain of digests can do without. */
function hashAll(file: string): void {
  using db = new Database(file, { readonly: true })
  for (const { text } of db.query<{ text: string }, []>('SELECT text FROM entry').iterate())
    sha256(text)
}

/** By the command that a person or the server uses: a process of its own, whose engine is set for long work. */
async function done(args: readonly string[]): Promise<void> {
  const { code, out, err } = await ran(args)
  if (code !== 0) throw new Error(`${args.join(' ')} ended with ${code}: ${out}${err}`)
}

export const copies = part('copies', { [VERIFY]: null, [BACKUP]: null }, async (put, options) => {
  const place = mkdtempSync(join(tmpdir(), 'flashbell-bench-'))
  try {
    const data = join(place, 'data')
    mkdirSync(data)
    const file = logFileIn(data)
    const { entries } = await writeBigLog(file, { ...BUSY, entries: options.entries })
    title(`copies: ${entries} entries, ${(Bun.file(file).size / 1e6).toFixed(0)} MB`)
    const hashed = await ms(() => hashAll(file))
    const verified = await ms(() => done(['verify', '--data', data]))
    const us = (took: number) => (took * 1_000) / entries
    const limit = { what: 'every text read and hashed', value: us(hashed) }
    put(VERIFY, { ours: us(verified), unit: 'us', limit })
    say('entries verified in a second', (entries * 1_000) / verified, '')

    const copied = await ms(() => copyFileSync(file, join(place, 'copy.sqlite')))
    const folder = join(place, 'backups')
    const made = await ms(() => done(['backup', folder, '--data', data]))
    // Half of it is checking that the copy is sound, which a copied file is not.
    const bare = { what: 'the file copied and verified', value: copied + verified }
    put(BACKUP, { ours: made, unit: 'ms', limit: bare })
    note('Both are processes of their own, their start among what they take.')
  } finally {
    rmSync(place, { recursive: true, force: true })
  }
})
