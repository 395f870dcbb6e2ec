import type { BackupLate } from '../../machines/contract/backup.ts'
import type {
  DiskTrouble,
  LogLoss,
  Rule,
  ServerError,
  WrongField,
} from '../../machines/contract.ts'
import type { Refusal } from '../../machines/refusals.ts'
import type { State } from '../../machines/state.ts'
import * as say from '../../machines/words/say.ts'
import type { Figures } from '../../machines/words/types.ts'
import { type Format, secondsOrLength } from '../units/format.ts'
import { localeOf, measureOf, numberText, unitOf } from '../units/measure.ts'
import type { Words } from '../words/en.ts'
import { panelName } from './panelName.ts'

/** What a refusal or a wrong field says, in the shop's language and units. Pure. */

/**
 * An error as it came, or as an older page kept it: a code that this page does not know, of a server
 * that is newer, has its sentence with it.
 */
export type ToldError = {
  readonly code?: string
  readonly field?: string
  readonly params?: object
  readonly message?: string
}
export type ToldRefusal = Refusal & { readonly message?: string }

/** Why a command was not taken. */
export type Trouble =
  | { readonly kind: 'refused'; readonly refusal: ToldRefusal }
  /** `errors`: every field that is wrong where there are several, the first of them in `error`. */
  | { readonly kind: 'wrong'; readonly error: ToldError; readonly errors?: readonly ToldError[] }
  /** The server is older than this command: it stays on this device. */
  | { readonly kind: 'notKnown'; readonly error: ToldError }

type Spoken = { readonly words: Words; readonly format: Format }
type Seen = Spoken & { readonly state: State | null; readonly now: number }

function figuresOf({ words, format, state, now }: Seen): Figures {
  const names: Readonly<Record<string, string>> = { ...words.stage, ...words.jobs.cures }
  const locale = localeOf(words.locale)
  const instant = (atMs: number) => `${format.date(atMs, now)} ${format.time(atMs)}`
  return {
    ago: (atMs) => secondsOrLength(Math.max(0, now - atMs)),
    // What is left is counted down beside the sentence.
    toGo: () => null,
    ...{ instant, utcMs: instant },
    temperature: format.temperature,
    degrees: format.degrees,
    humidity: format.humidity,
    volume: format.volume,
    grams: (g) => `${numberText(g, locale)} g`,
    name: (code) => names[code] ?? code,
    panel: (id, name) => panelName(state, id, name),
    measured: (values, unit = '') => {
      const of = unitOf(measureOf(unit), format.units)
      return {
        values: values.map((value) => numberText(of.fromSi(value), locale)),
        unit: of.word || (unit === '' ? undefined : words.said.unit(unit)),
      }
    },
  }
}

/** Why a command was refused. */
export function refusalText(refusal: ToldRefusal, seen: Seen): string {
  // What an older page kept has its sentence, and no parameters.
  const isKnown = refusal.problems?.every(
    (problem) => problem.params && Object.hasOwn(seen.words.said.refusals, problem.code),
  )
  if (isKnown) return say.refusalText(refusal, seen.words.said, figuresOf(seen))
  const code: string = refusal.code
  const own = seen.words.said.serverRefusals
  if (refusal.params && Object.hasOwn(own, code))
    return (own[code as keyof typeof own] as (params: object) => string)(refusal.params)
  return refusal.message ?? seen.words.notSent
}

/**
 * What is wrong with a field, or with the server.
 * @param at what to call the field, null where the sentence stands beside it; what was typed in it
 */
export function wrongText(
  error: ToldError,
  { words, format }: Spoken,
  at: { readonly name?: string | null; readonly typed?: string } = {},
): string {
  const { code = '', field = '', params } = error
  const { said } = words
  if (!params || !(Object.hasOwn(said.rules, code) || Object.hasOwn(said.server, code)))
    return error.message ?? words.notSent
  const figures = figuresOf({ words, format, state: null, now: 0 })
  if (Object.hasOwn(said.server, code))
    return say.serverErrorText({ code, params } as ServerError, said, figures)
  const wrong = { code: code as Rule['code'], field, params } as WrongField
  const { typed } = at
  const given = typed === undefined ? undefined : typed.trim() === '' ? null : `"${typed.trim()}"`
  // Nobody typed when a press was made.
  const isOfPress = field === 'at' || field === 'enteredAt'
  const name = at.name === undefined && isOfPress ? words.outbox.pressedAt : at.name
  return say.wrongText(wrong, said, figures, { name, given })
}

/** Why a command was not taken, and what to do. */
export function troubleText(trouble: Trouble, seen: Seen): string {
  if (trouble.kind === 'refused') return refusalText(trouble.refusal, seen)
  return trouble.kind === 'wrong' ? wrongText(trouble.error, seen) : seen.words.outbox.notKnown
}

/** What the server's log lacks. */
export const lossText = (loss: LogLoss, { words, format }: Spoken): string =>
  say.lossText(loss, words.said, figuresOf({ words, format, state: null, now: 0 }))

/** That no backup was made of late. */
export const backupLateText = (late: BackupLate, { words, format }: Spoken): string =>
  words.said.backupLate(late, figuresOf({ words, format, state: null, now: 0 }))

/** What is wrong with the server's disk, and what to do. */
export const diskText = (trouble: DiskTrouble, { words, format }: Spoken): string =>
  say.diskText(trouble, words.said, figuresOf({ words, format, state: null, now: 0 }))
