import { type Checked, check } from '../../machines/accept.ts'
import {
  type BackupKeep,
  type BackupProgress,
  KEEP,
  keepSchema,
} from '../../machines/contract/backup.ts'
import { hasLog, Usable } from '../data.ts'
import { inEnglish } from '../say.ts'

/** The commands that copy a shop: backup, restore, export, import. */

export type CopyOptions = {
  /** The one word behind the command. */
  readonly word: string
  readonly data: string
  /** As typed; absent where it was not. */
  readonly keep: { readonly [K in keyof BackupKeep]: string | undefined }
  readonly replace: boolean
  readonly progress: boolean
}

export type CopyIo = {
  readonly out: (text: string) => void
  readonly err: (text: string) => void
  /** UTC ms. */
  readonly now: () => number
}

/** The exit code, or what was asked for wrongly. */
type Ended = 0 | 1 | 3 | { readonly wrong: string }
type CopyCommand = (options: CopyOptions, io: CopyIo) => Promise<Ended>

export type CopyName = 'backup' | 'restore' | 'export' | 'import'

const line = (value: unknown): string => `${JSON.stringify(value)}\n`

/** What a progress line of `backup --progress` holds. */
export type ProgressLine = { readonly progress: BackupProgress }

const refuseNoLog = (data: string): void => {
  if (!hasLog(data)) throw new Usable(`There is no log in ${data}. Name its folder with --data.`)
}

export const COPY_COMMANDS: Readonly<Record<CopyName, CopyCommand>> = {
  async backup({ word, data, keep: typed, progress }, io) {
    const keep = keepOf(typed)
    if (!keep.ok) return { wrong: inEnglish(0).fields(keep).error.message }
    refuseNoLog(data)
    const { makeBackup } = await import('./make.ts')
    const outcome = await makeBackup({
      data,
      folder: word,
      keep: keep.value,
      now: io.now(),
      ...(progress
        ? { progress: (now) => io.out(line({ progress: now } satisfies ProgressLine)) }
        : {}),
    })
    if (outcome.ok) {
      io.out(line(outcome))
      return outcome.photos.missing.length > 0 ? 3 : 0
    }
    const { trouble } = outcome
    io.out(progress ? line(outcome) : '')
    io.err(`${inEnglish(io.now()).backup(trouble)}\n`)
    return 1
  },

  async restore({ word, data, replace }, io) {
    const { restoreBackup } = await import('./restore.ts')
    const done = await restoreBackup({ from: word, data, replace, now: io.now() })
    io.out(line(done))
    if (done.beyond > 0)
      io.err(
        `The shop had ${done.beyond} more entries than this backup. Kiosks that know some of them say so.\n`,
      )
    return done.photos.missing.length > 0 ? 3 : 0
  },

  async export({ word, data }, io) {
    refuseNoLog(data)
    const { exportFile, exportLines } = await import('./export.ts')
    if (word === '-') {
      await exportLines(data, async (text) => io.out(text))
      return 0
    }
    io.out(line({ ok: true, file: word, shops: await exportFile(data, word) }))
    return 0
  },

  async import({ word, data }, io) {
    const { importFile } = await import('./import.ts')
    const done = await importFile(word, data, io.now())
    io.out(line({ ok: true, data, ...done }))
    if (done.photos > 0)
      io.err(
        `Pictures are not in an export: the log names ${done.photos}. Copy the photos folder of a backup to ${data}/photos.\n`,
      )
    return 0
  },
}

function keepOf(typed: CopyOptions['keep']): Checked<BackupKeep> {
  const given = Object.entries(typed).flatMap(([key, text]) =>
    text === undefined ? [] : [[key, /^\d+$/.test(text) ? Number(text) : text] as const],
  )
  return check(keepSchema, { ...KEEP, ...Object.fromEntries(given) }, 'keep')
}
