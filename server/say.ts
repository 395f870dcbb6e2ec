import { parseAccept } from 'hono/utils/accept'
import type { BackupHealth, BackupTrouble } from '../machines/contract/backup.ts'
import type { Damage, StartTrouble } from '../machines/contract/damage.ts'
import type {
  ClockHealth,
  CommandAnswer,
  Health,
  LogLoss,
  Said,
  ServerError,
  WrongFields,
} from '../machines/contract.ts'
import { en } from '../machines/words/en.ts'
import { es } from '../machines/words/es.ts'
import {
  backupText,
  damageText,
  diskText,
  lossText,
  refusalText,
  serverErrorText,
  serverRefusalText,
  startText,
  wrongText,
} from '../machines/words/say.ts'
import { siFigures } from '../machines/words/si.ts'
import type { Words } from '../machines/words/types.ts'
import type { Clock } from './clock.ts'
import type { LogVerdict } from './log/chain.ts'
import type { Answer } from './problems.ts'

/**
 * The server's edge for sentences: everything inside answers with codes, and only what leaves it is
 * put into words of the language that was asked for.
 */

const LANGUAGES: Readonly<Record<string, Words>> = { en, es }

/** Whoever asks, as far as words go: a request, or Hono's context of one. */
export type Asked = { readonly req: { header(name: string): string | undefined } }

export const askedBy = ({ headers }: Request): Asked => ({
  req: { header: (name) => headers.get(name) ?? undefined },
})

/** The words that a client asks for by Accept-Language; English without it. */
export function wordsFor({ req }: Asked): Words {
  for (const { type } of parseAccept(req.header('Accept-Language') ?? '')) {
    const words = LANGUAGES[type.slice(0, 2).toLowerCase()]
    if (words) return words
  }
  return en
}

const iso = (atMs: number): string => new Date(atMs).toISOString()

/** @param now UTC ms, for the lengths in sentences */
export function sayIn(words: Words, now: number) {
  const figures = siFigures(words, now, iso)
  const fields = ({ errors }: WrongFields) => {
    const said = errors.map((one) => ({ ...one, message: wrongText(one, words, figures) }))
    return { error: said[0] as (typeof said)[number], errors: said }
  }
  const error = (of: ServerError): Said<ServerError> => ({
    ...of,
    message: serverErrorText(of, words, figures),
  })
  const loss = (of: LogLoss) => `${lossText(of, words, figures)} ${words.health.log}`
  const clock = (of: ClockHealth) => {
    if (of.code === 'ok') return of
    const { doubt, nowMs, wallMs } = of.params
    const times = words.health.clock(figures.instant(nowMs), figures.instant(wallMs))
    return { ...of, message: `${words.doubts[doubt]} ${times}` }
  }
  const backup = (of: BackupHealth) => {
    if (of.code === 'ok') return of
    if (of.code === 'notSet') return { ...of, message: words.health.noBackup }
    if (of.code === 'late') return { ...of, message: words.backupLate(of.params, figures) }
    return { ...of, message: backupText(of.params.trouble, words, figures) }
  }
  return {
    fields,
    error,
    /** What a log lacks and what to do, for the person who runs the server. */
    loss,
    /** Why no backup was made. */
    backup: (of: BackupTrouble): string => backupText(of, words, figures),
    /** What is wrong with an entry or a picture, as a clause. */
    damage: (of: Damage): string => damageText(of, words, figures),
    /** Why a shop cannot be served, and what to do. */
    start: (of: StartTrouble): string => startText(of, words, figures),
    /** What `verify` found, with sentences where something is wrong. */
    verdict: (of: LogVerdict) => {
      if (!of.ok) return { ...of, why: damageText(of.damage, words, figures) }
      if (!of.warnings) return of
      const warnings = of.warnings.map((one) => ({
        ...one,
        what: damageText(one.damage, words, figures),
        remedy: words.photoLost(one.photo, one.folder),
      }))
      return { ...of, warnings }
    },
    /** How the server is, with sentences where something is wrong. */
    health: (of: Health) => ({
      ...of,
      clock: clock(of.clock),
      log:
        of.log.code === 'ok'
          ? of.log
          : { ...of.log, message: loss({ kind: of.log.code, ...of.log.params }) },
      disk:
        of.disk.code === 'ok'
          ? of.disk
          : { ...of.disk, message: diskText(of.disk, words, figures) },
      backup: backup(of.backup),
    }),
    /** The answer to a command, in words. */
    answer({ status, body }: Answer): CommandAnswer {
      if ('errors' in body) return { status, body: fields(body) } as CommandAnswer
      if ('error' in body) return { status, body: { error: error(body.error) } } as CommandAnswer
      if (!('refusal' in body)) return { status, body } as CommandAnswer
      const { refusal } = body
      const message =
        'problems' in refusal
          ? refusalText(refusal, words, figures)
          : serverRefusalText(refusal, words)
      return { status, body: { refusal: { ...refusal, message } } } as CommandAnswer
    },
  }
}
export type Say = ReturnType<typeof sayIn>

/** English, for the command line. */
export const inEnglish = (now: number): Say => sayIn(en, now)

/** The sentences of one request. */
export const sayFor = (c: Asked, clock?: Pick<Clock, 'now'>): Say =>
  sayIn(wordsFor(c), clock?.now() ?? 0)
