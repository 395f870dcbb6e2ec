import type { KioskBuild } from '../../kiosk/build.ts'
import { only, type Routes } from '../http.ts'

/** What the page of a practice shop is told. */
export type Practised = {
  /** How many times as fast its time runs. */
  readonly speed: number
  /** The address of the shop that it is left for; null where no other is served. */
  readonly own: string | null
}

/** The kiosk's files, built once at start and kept in memory; through Hono, so that they have its CSP. */
export const kioskRoutes =
  ({ files }: KioskBuild, practised?: Practised): Routes =>
  (app) => {
    for (const [path, file] of files) {
      const { type, immutable } = file
      const body = path.endsWith('.html') || path === '/' ? told(file.body, practised) : file.body
      const headers = {
        'Content-Type': type,
        'Cache-Control': immutable ? 'public, max-age=31536000, immutable' : 'no-cache',
      }
      const paths = path === '/index.html' ? ['/', path] : [path]
      for (const at of paths)
        only(app, 'GET', at, (c) => c.body(new Uint8Array(body), 200, headers))
    }
  }

function told(page: Uint8Array, practised?: Practised): Uint8Array {
  if (!practised) return page
  const { speed, own } = practised
  const port = own === null ? '' : `<meta name="own-port" content="${new URL(own).port}">`
  const html = new TextDecoder().decode(page)
  return new TextEncoder().encode(
    html.replace('<head>', `<head><meta name="speed" content="${speed}">${port}`),
  )
}
