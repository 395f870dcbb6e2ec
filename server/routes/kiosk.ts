import type { KioskBuild } from '../../kiosk/build.ts'
import { only, type Routes } from '../http.ts'

/** The kiosk's files, built once at start and kept in memory; through Hono, so that they have its CSP. */
export const kioskRoutes =
  ({ files }: KioskBuild): Routes =>
  (app) => {
    for (const [path, { body, type, immutable }] of files) {
      const headers = {
        'Content-Type': type,
        'Cache-Control': immutable ? 'public, max-age=31536000, immutable' : 'no-cache',
      }
      const paths = path === '/index.html' ? ['/', path] : [path]
      for (const at of paths)
        only(app, 'GET', at, (c) => c.body(new Uint8Array(body), 200, headers))
    }
  }
