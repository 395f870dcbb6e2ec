import type { KioskBuild } from '../../kiosk/build.ts'
import { only, type Routes } from '../http.ts'

/** The kiosk's files, built once at start and kept in memory; through Hono, so that they have its CSP. */
/** @param speed how many times as fast the shop's time runs: more than 1 in a practice shop */
export const kioskRoutes =
  ({ files }: KioskBuild, speed = 1): Routes =>
  (app) => {
    for (const [path, file] of files) {
      const { type, immutable } = file
      const body = path.endsWith('.html') || path === '/' ? told(file.body, speed) : file.body
      const headers = {
        'Content-Type': type,
        'Cache-Control': immutable ? 'public, max-age=31536000, immutable' : 'no-cache',
      }
      const paths = path === '/index.html' ? ['/', path] : [path]
      for (const at of paths)
        only(app, 'GET', at, (c) => c.body(new Uint8Array(body), 200, headers))
    }
  }

/** The page, told how fast its shop's time runs. */
function told(page: Uint8Array, speed: number): Uint8Array {
  if (speed === 1) return page
  const html = new TextDecoder().decode(page)
  return new TextEncoder().encode(
    html.replace('<head>', `<head><meta name="speed" content="${speed}">`),
  )
}
