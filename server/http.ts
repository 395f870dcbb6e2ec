import type { Context, Handler, Hono } from 'hono'
import { isNestedAtMost, type WrongFields, wrongAt } from '../machines/contract.ts'
import type { Backups } from './backup/schedule.ts'
import type { Clock } from './clock.ts'
import { jsonAnswer } from './headers.ts'
import type { Kiosks } from './kiosks.ts'
import type { LogWatch } from './log/watch.ts'
import type { Printing } from './printing/printing.ts'
import { type ProblemAnswer, problem, wrong } from './problems.ts'
import { type Asked, sayFor } from './say.ts'
import type { Shops } from './shops.ts'

/** What every route may use. */
export type AppDeps = {
  readonly shops: Shops
  readonly clock: Clock
  /** What the log was found to lack. */
  readonly log: Omit<LogWatch, 'close'>
  /** Names the program that answers: another build on a kiosk means that it has to reload. */
  readonly build: string
  readonly report: (error: unknown) => void
  /** Null where none are set up, as in a practice shop. */
  readonly backups?: Backups | null
  /** Null where nothing can be printed to, as in a practice shop. */
  readonly printing?: Printing | null
  /** Names under which the server may be asked for; without it those of this computer. */
  readonly hosts?: readonly string[]
  /** Further routes: files of the kiosk, labels. */
  readonly more?: readonly Routes[]
}

/** With what the app itself knows: which kiosks are open. */
export type RouteDeps = AppDeps & { readonly kiosks: Kiosks }

/** The Bun server that a request came through; a test without a port has none. */
export type Env = {
  readonly Bindings: { readonly server?: Pick<Bun.Server<undefined>, 'timeout'> }
}
export type App = Hono<Env>
/** Puts routes on the app. */
export type Routes = (app: App, deps: RouteDeps) => void

/** A path that answers one method; the answer to any other names it. GET answers HEAD too. */
export function only(app: App, method: 'GET' | 'POST', path: string, handler: Handler<Env>): void {
  app.on(method, path, handler)
  app.all(path, (c) => wrongMethod(c, method === 'GET' ? 'GET, HEAD' : method))
}

/** @param allow the methods that the path answers */
export function wrongMethod(c: Context<Env>, allow: string): Response {
  const answer = sayProblem(c, problem('wrongMethod', { method: c.req.method, allow }))
  answer.headers.set('Allow', allow)
  return answer
}

const DEPTH_MOST = 64
const strictUtf8 = new TextDecoder('utf-8', { fatal: true })

/** The body as JSON, or what is wrong with it. */
export async function jsonOf(request: Request): Promise<{ readonly input: unknown } | WrongFields> {
  const bytes = await request.arrayBuffer()
  try {
    return checkedJson(strictUtf8.decode(bytes))
  } catch {
    return wrongAt('body', bytesOf(bytes), 'utf8', {})
  }
}

const bytesOf = ({ byteLength }: ArrayBuffer): string => `${byteLength} bytes`

function checkedJson(text: string) {
  try {
    const input: unknown = JSON.parse(text)
    if (isNestedAtMost(input, DEPTH_MOST)) return { input }
  } catch {
    return wrongAt('body', text === '' ? undefined : text, 'json', {})
  }
  return wrongAt('body', text, 'depth', { most: DEPTH_MOST })
}

const COUNT = /^\d{1,15}$/

/**
 * A whole number of the query.
 * @returns `otherwise` where the query has none
 */
export function countOf(
  c: Context<Env>,
  name: string,
  { min, max, otherwise }: { min: number; max: number; otherwise: number },
): number | WrongFields {
  const given = c.req.query(name)
  if (given === undefined) return otherwise
  const count = COUNT.test(given) ? Number(given) : Number.NaN
  if (count >= min && count <= max) return count
  return wrongAt(name, given, 'whole', { min, max })
}

export function sayWrong(asked: Asked, found: WrongFields): Response {
  const { status, body } = wrong(found)
  return jsonAnswer(sayFor(asked).fields(body), status)
}

/** @param more what else an answer of this kind carries */
export const sayProblem = (asked: Asked, { status, body }: ProblemAnswer, more = {}): Response =>
  jsonAnswer({ error: sayFor(asked).error(body.error), ...more }, status)
