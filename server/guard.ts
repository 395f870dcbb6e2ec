import { bodyLimit } from 'hono/body-limit'
import { createMiddleware } from 'hono/factory'
import { secureHeaders } from 'hono/secure-headers'
import { wrongAt } from '../machines/contract.ts'
import { type Env, sayProblem, sayWrong } from './http.ts'
import { problem, tooLarge } from './problems.ts'
import { sayFor } from './say.ts'

/** The middleware in front of every route. */

const BODY_MOST = 1024 * 1024

export const limitedBody = bodyLimit({
  maxSize: BODY_MOST,
  onError: (c) => {
    const { status, body } = tooLarge('bodySize', BODY_MOST)
    return c.json(sayFor(c).fields(body), status)
  },
})

export const headers = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'self'"],
    // The scanner is WebAssembly.
    scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
    imgSrc: ["'self'", 'data:', 'blob:'],
    workerSrc: ["'self'"],
    connectSrc: ["'self'"],
    frameAncestors: ["'none'"],
    baseUri: ["'none'"],
    // What is typed goes out as commands, never as a form.
    formAction: ["'none'"],
  },
  xFrameOptions: 'DENY',
  permissionsPolicy: { camera: ['self'], microphone: [] },
  // Plain http: there is nothing to be strict about.
  strictTransportSecurity: false,
})

const LOOPBACK = ['127.0.0.1', 'localhost', '[::1]'] as const

/**
 * Refuses a name that is not this server's: a page elsewhere may point its own name at this
 * computer and would then be of the same origin.
 */
export const knownHost = (hosts: readonly string[] = LOOPBACK) =>
  createMiddleware<Env>(async (c, next) => {
    // Bun makes the address from the Host header as it came, and that need not be a name at all.
    if (!URL.canParse(c.req.url))
      return sayWrong(c, wrongAt('Host', c.req.header('Host'), 'host', { names: hosts }))
    const { hostname } = new URL(c.req.url)
    if (hosts.includes(hostname) || hostname.endsWith('.localhost')) return next()
    return sayProblem(c, problem('unknownHost', { host: hostname, hosts }))
  })

/**
 * Refuses what a page of another origin posts. Programs that are not browsers send neither header.
 */
export const sameOrigin = createMiddleware<Env>(async (c, next) => {
  if (c.req.method === 'GET' || c.req.method === 'HEAD') return next()
  const site = c.req.header('Sec-Fetch-Site')
  const origin = c.req.header('Origin')
  const isOwn =
    (site === undefined || site === 'same-origin' || site === 'none') &&
    (origin === undefined || origin === new URL(c.req.url).origin)
  if (isOwn) return next()
  return sayProblem(c, problem('crossSite', {}))
})
