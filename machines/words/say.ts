import type { ServerError, ServerRefusal } from '../contract/answers.ts'
import type { BackupTrouble } from '../contract/backup.ts'
import type { Damage, LogLoss, StartTrouble } from '../contract/damage.ts'
import type { DiskTrouble } from '../contract/serverStanding.ts'
import type { WrongField } from '../contract/wrongField.ts'
import type { Refusal, ToldProblem } from '../refusals.ts'
import type { Figures, Words } from './types.ts'

/** Puts what the rules say in codes into sentences of one language. Pure. */

/** A table's function for a code takes that code's parameters: what the types of both say. */
type Take = (params: object, figures: Figures, clearsAt?: number) => string

/** What was given: a number in the unit in which the field is typed, an instant as its field takes it. */
function givenOf({ code, params }: WrongField, figures: Figures): string | undefined {
  const { given } = params
  if (code === 'notAhead' || code === 'notAfterEntry') return figures.utcMs(Number(given))
  const unit = 'unit' in params ? params.unit : undefined
  const value = Number(given)
  if (unit === undefined || given === undefined || !Number.isFinite(value)) return given
  return figures.measured([value], unit).values[0]
}

/**
 * What is wrong with a field: what was given and what to use.
 * @param as what to call the field, null where the sentence stands beside it; what was typed, null
 *   for nothing, where that is not what the field was given
 */
export function wrongText(
  wrong: WrongField,
  words: Words,
  figures: Figures,
  as: {
    readonly name?: string | null | undefined
    readonly given?: string | null | undefined
  } = {},
): string {
  const { code, field, params } = wrong
  const own = field === '' || field === 'body' ? words.body : field
  const given = as.given === undefined ? givenOf(wrong, figures) : (as.given ?? undefined)
  const use = (words.rules[code] as Take)(params, figures)
  const name = as.name === undefined ? own : as.name
  if (code === 'bodySize' || code === 'pictureSize') return words.tooLarge(name, use)
  return words.wrong(name, given, use)
}

/** Codes that do not speak of a panel as "it", though they may be about one. */
const NAMELESS: readonly string[] = ['unknownThing', 'idTaken']

/** Whom a sentence is about, named before it: a panel, or the job that is closed or in another state. */
function subjectOf(problem: ToldProblem, figures: Figures): string[] {
  if (NAMELESS.includes(problem.code)) return []
  const about = 'about' in problem.params ? problem.params.about : undefined
  if (problem.panel !== undefined) return [figures.panel(problem.panel, about)]
  const isJob = problem.code === 'closed' || problem.code === 'jobState'
  return isJob && about ? [about] : []
}

/** Why a command was refused: panels of which the same is said are named together. */
export function refusalText(
  { problems, needsLead }: Refusal,
  words: Words,
  figures: Figures,
): string {
  const said = new Map<string, string[]>()
  for (const problem of problems) {
    const { code, params, clearsAt } = problem
    const text = (words.refusals[code] as Take)(params, figures, clearsAt)
    const length = clearsAt === undefined ? null : figures.toGo(clearsAt)
    const whole = length === null ? text : `${text} ${words.toGo(length)}`
    said.set(whole, [...(said.get(whole) ?? []), ...subjectOf(problem, figures)])
  }
  const whys = [...said].map(([text, subjects]) =>
    [subjects.join(', '), text].filter(Boolean).join(': '),
  )
  return [...whys, ...(needsLead ? [words.onlyLead] : [])].join(' ')
}

export const serverRefusalText = ({ code, params }: ServerRefusal, words: Words): string =>
  (words.serverRefusals[code] as (params: object) => string)(params)

/** What the server's log lacks. */
export const lossText = ({ kind, ...known }: LogLoss, words: Words, figures: Figures): string =>
  words.log[kind](known, figures)

/** What is wrong with the server's disk, and what to do. */
export const diskText = ({ code, params }: DiskTrouble, words: Words, figures: Figures): string =>
  (words.disk[code] as Take)(params, figures)

/** Why no backup was made, and what to do. */
export const backupText = (
  { code, params }: BackupTrouble,
  words: Words,
  figures: Figures,
): string => (words.backup[code] as Take)(params, figures)

/** What is wrong with an entry of a log, or with a picture that it names: a clause without its end. */
export const damageText = ({ code, params }: Damage, words: Words, figures: Figures): string =>
  (words.damage[code] as Take)(params, figures)

/** Why a shop cannot be served, and what to do. */
export const startText = ({ code, params }: StartTrouble, words: Words, figures: Figures): string =>
  (words.start[code] as Take)(params, figures)

export const serverErrorText = (
  { code, params }: ServerError,
  words: Words,
  figures: Figures,
): string => (words.server[code] as Take)(params, figures)
