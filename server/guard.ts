import { bodyLimit } from 'hono/body-limit'
import { createMiddleware } from 'hono/factory'
import { wrongAt } from '../machines/contract.ts'
import { dress, jsonAnswer } from './headers.ts'
import { type Env, sayProblem, sayWrong } from './http.ts'
import { problem, tooLarge } from './problems.ts'
import { type Asked, askedBy, sayFor } from './say.ts'

/** What stands in front of everything that is answered. */

const LOOPBACK = ['127.0.0.1', 'localhost', '[::1]'] as const

/** @returns the answer to who is refused */
export type Guard = (request: Request) => Response | null

/**
 * Refuses a name that is not this server's: a page elsewhere may point its own name at this
 * computer and would then be of the same origin.
 */
function knownHost(hosts: readonly string[]): Guard {
  /** The last origin that was looked at and is our own: nearly every request has the same. */
  let own: string | null = null
  return (request) => {
    const { url } = request
    if (own !== null && url.startsWith(own)) return null
    const asked = askedBy(request)
    // Bun makes the address from the Host header as it came, and that need not be a name at all.
    if (!URL.canParse(url))
      return sayWrong(asked, wrongAt('Host', asked.req.header('Host'), 'host', { names: hosts }))
    const { hostname, origin } = new URL(url)
    if (!hosts.includes(hostname) && !hostname.endsWith('.localhost'))
      return sayProblem(asked, problem('unknownHost', { host: hostname, hosts }))
    own = `${origin}/`
    return null
  }
}

/**
 * Refuses what a page of another origin posts. Programs that are not browsers send neither header.
 */
const sameOrigin: Guard = (request) => {
  const { method, headers, url } = request
  if (method === 'GET' || method === 'HEAD') return null
  const site = headers.get('Sec-Fetch-Site')
  const origin = headers.get('Origin')
  const isOwn =
    (site === null || site === 'same-origin' || site === 'none') &&
    (origin === null || origin === new URL(url).origin)
  return isOwn ? null : sayProblem(askedBy(request), problem('crossSite', {}))
}

export function guardOf(hosts: readonly string[] = LOOPBACK): Guard {
  const isKnown = knownHost(hosts)
  return (request) => isKnown(request) ?? sameOrigin(request)
}

/** In front of all routes. */
export const guarded = (guard: Guard) =>
  createMiddleware<Env>(async (c, next) => {
    const refused = guard(c.req.raw)
    if (refused) c.res = refused
    else await next()
    dress(c.res.headers, c.req.path)
  })

const BODY_MOST = 1024 * 1024

const sayTooLarge = (asked: Asked): Response => {
  const { status, body } = tooLarge('bodySize', BODY_MOST)
  return jsonAnswer(sayFor(asked).fields(body), status)
}
export const limitedBody = bodyLimit({ maxSize: BODY_MOST, onError: sayTooLarge })

/** Whether a body says beforehand that it is within the limit: one that is looked at becomes a stream. */
export function saysItIsSmall({ headers }: Request): boolean {
  const length = headers.get('Content-Length')
  return length !== null && Number(length) <= BODY_MOST && !headers.has('Transfer-Encoding')
}
