import { parseArgs } from 'node:util'

/** The words and options of a command line. */

export type Asked = {
  readonly words: readonly string[]
  readonly port: string | undefined
  readonly data: string | undefined
  readonly job: string | undefined
  readonly printer: string | undefined
  readonly lot: string | undefined
  readonly why: string | undefined
  readonly keep: { readonly [K in 'days' | 'weeks' | 'months']: string | undefined }
  readonly replace: boolean
  readonly progress: boolean
}

export function readArgs(args: readonly string[]): Asked | { readonly wrong: string } {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        port: { type: 'string' },
        data: { type: 'string' },
        job: { type: 'string' },
        printer: { type: 'string' },
        lot: { type: 'string' },
        why: { type: 'string' },
        'keep-days': { type: 'string' },
        'keep-weeks': { type: 'string' },
        'keep-months': { type: 'string' },
        replace: { type: 'boolean', default: false },
        progress: { type: 'boolean', default: false },
        help: { type: 'boolean', short: 'h' },
        version: { type: 'boolean' },
      },
    })
    const instead = values.help ? ['help'] : values.version ? ['version'] : positionals
    const keep = {
      days: values['keep-days'],
      weeks: values['keep-weeks'],
      months: values['keep-months'],
    }
    const { port, data, job, printer, lot, why, replace, progress } = values
    return { words: instead, port, data, job, printer, lot, why, keep, replace, progress }
  } catch (error) {
    return { wrong: error instanceof Error ? error.message : String(error) }
  }
}

/** One word more than a command takes, in a sentence. */
export const extra = (words: readonly string[], most: number): string | null =>
  words.length > most ? `${words[most]} is one word too many.` : null

export const isPort = (given: string): boolean => /^\d{1,5}$/.test(given) && Number(given) <= 65_535
