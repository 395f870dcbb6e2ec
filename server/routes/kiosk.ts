import type { Context } from 'hono'
import { type Env, type Routes, wrongMethod } from '../http.ts'
import type { Encoding, KioskFiles, ServedFile } from '../kioskPacked.ts'

/** What the page of a practice shop is given. */
export type PracticeInfo = {
  /** How many times as fast its time runs. */
  readonly speed: number
  /** The address of the shop that it is left for; null where no other is served. */
  readonly own: string | null
}

/** The kiosk's files, kept in memory; through Hono, so that they have its CSP. */
export const kioskRoutes =
  ({ files }: KioskFiles, practice?: PracticeInfo): Routes =>
  (app) => {
    const own = practice ? markedFor(practice, files) : files
    // One for them all: a hundred routes more are put together anew by each start, and looked through by each request.
    app.use(async (c, next) => {
      const file = own.get(c.req.path)
      if (!file) return await next()
      return ['GET', 'HEAD'].includes(c.req.method) ? answer(c, file) : wrongMethod(c, 'GET, HEAD')
    })
  }

const markedFor = (practice: PracticeInfo, files: KioskFiles['files']): KioskFiles['files'] =>
  new Map(
    [...files].map(([path, file]) => {
      const isPage = file.type.startsWith('text/html')
      return [path, isPage ? withMarks(file, practice) : file] as const
    }),
  )

function answer(c: Context<Env>, { bodies, type, immutable, etag }: ServedFile): Response {
  const headers = {
    'Content-Type': type,
    'Cache-Control': immutable ? 'public, max-age=31536000, immutable' : 'no-cache',
    ETag: etag,
    Vary: 'Accept-Encoding',
  }
  if (isAmong(c.req.header('If-None-Match') ?? '', etag)) return c.body(null, 304, headers)
  const encoding = encodingFor(c.req.header('Accept-Encoding') ?? '', bodies)
  const body = new Uint8Array(bodies[encoding] ?? bodies.identity)
  return encoding === 'identity'
    ? c.body(body, 200, headers)
    : c.body(body, 200, { ...headers, 'Content-Encoding': encoding })
}

/** Whether a browser has this content already (RFC 9110, 13.1.2: weak comparison). */
const isAmong = (given: string, etag: string): boolean =>
  given.split(',').some((one) => one.trim().replace(/^W\//, '') === etag)

/** The smallest form that both sides know. A quality of 0 forbids one (RFC 9110, 12.5.3). */
function encodingFor(accepted: string, bodies: ServedFile['bodies']): Encoding {
  const known = accepted.split(',').flatMap((one) => {
    const [name = '', ...params] = one.split(';').map((part) => part.trim().toLowerCase())
    return params.some((param) => /^q=0(\.0*)?$/.test(param)) ? [] : [name]
  })
  const smaller: readonly Encoding[] = ['br', 'gzip']
  return smaller.find((one) => bodies[one] && known.includes(one)) ?? 'identity'
}

/** The page with what a practice shop tells it. It is small and not compressed. */
function withMarks(page: ServedFile, { speed, own }: PracticeInfo): ServedFile {
  const port = own === null ? '' : `<meta name="own-port" content="${new URL(own).port}">`
  const html = new TextDecoder()
    .decode(page.bodies.identity)
    .replace('<head>', `<head><meta name="speed" content="${speed}">${port}`)
  const identity = new TextEncoder().encode(html)
  return { ...page, bodies: { identity }, etag: `"${Bun.hash(identity).toString(36)}"` }
}
