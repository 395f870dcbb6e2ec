/** What every answer carries. */

/** What a page of this server may load and be embedded in. */
const HEADERS = {
  'Content-Security-Policy': [
    "default-src 'self'",
    // The scanner is WebAssembly.
    "script-src 'self' 'wasm-unsafe-eval'",
    "img-src 'self' data: blob:",
    "worker-src 'self'",
    "connect-src 'self'",
    "frame-ancestors 'none'",
    "base-uri 'none'",
    // What is typed goes out as commands, never as a form.
    "form-action 'none'",
  ].join('; '),
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Origin-Agent-Cluster': '?1',
  'Permissions-Policy': 'camera=(self), microphone=()',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'X-DNS-Prefetch-Control': 'off',
  'X-Download-Options': 'noopen',
  'X-Frame-Options': 'DENY',
  'X-Permitted-Cross-Domain-Policies': 'none',
  'X-XSS-Protection': '0',
}

/** What the API says is true for a moment only, unless it says so itself: a picture never changes. */
const NOT_KEPT = { 'Cache-Control': 'no-store' }
const isOfApi = (path: string): boolean => path.startsWith('/api/') || path === '/healthz'

const JSON_HEADERS = new Headers({ ...HEADERS, ...NOT_KEPT, 'Content-Type': 'application/json' })

/** An answer with all its headers at once: set one by one they cost a command as much as its sealing. */
export const jsonAnswer = (body: unknown, status: number): Response =>
  jsonTextAnswer(JSON.stringify(body), status)

/** @param text JSON */
export const jsonTextAnswer = (text: string, status: number): Response =>
  new Response(text, { status, headers: JSON_HEADERS })

/** @param headers of an answer to a path */
export function dress(headers: Headers, path: string): void {
  // It is of jsonAnswer.
  if (headers.has('X-Frame-Options')) return
  for (const [name, value] of Object.entries(HEADERS)) headers.set(name, value)
  if (!isOfApi(path) || headers.has('Cache-Control')) return
  for (const [name, value] of Object.entries(NOT_KEPT)) headers.set(name, value)
}
