import type { HonoRequest } from 'hono'
import { parseAccept } from 'hono/utils/accept'
import type { CommandAnswer, Said, ServerError, WrongFields } from '../machines/contract.ts'
import { en } from '../machines/words/en.ts'
import { es } from '../machines/words/es.ts'
import {
  refusalText,
  serverErrorText,
  serverRefusalText,
  wrongText,
} from '../machines/words/say.ts'
import { siFigures } from '../machines/words/si.ts'
import type { Words } from '../machines/words/types.ts'
import type { Clock } from './clock.ts'
import type { Answer } from './problems.ts'

/**
 * The server's edge for sentences: everything inside answers with codes, and only what leaves it is
 * put into words of the language that was asked for.
 */

const LANGUAGES: Readonly<Record<string, Words>> = { en, es }

type Asked = { readonly req: HonoRequest }

/** The words that a client asks for by Accept-Language; English without it. */
export function wordsFor({ req }: Asked): Words {
  for (const { type } of parseAccept(req.header('Accept-Language') ?? '')) {
    const words = LANGUAGES[type.slice(0, 2).toLowerCase()]
    if (words) return words
  }
  return en
}

/** @param now UTC ms, for the lengths in sentences */
export function sayIn(words: Words, now: number) {
  const figures = siFigures(words, now)
  const fields = ({ errors }: WrongFields) => {
    const said = errors.map((one) => ({ ...one, message: wrongText(one, words, figures) }))
    return { error: said[0] as (typeof said)[number], errors: said }
  }
  const error = (of: ServerError): Said<ServerError> => ({
    ...of,
    message: serverErrorText(of, words),
  })
  return {
    fields,
    error,
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
