/**
 * The service worker: keeps the files of one build, so that a page can be loaded while the server is
 * away. It never touches the API: what that says is true for a moment only.
 */
declare const self: ServiceWorkerGlobalScope
/** Paths of the build's files, and its name; put in by build.ts. */
declare const __PRECACHE__: readonly string[]
declare const __BUILD__: string

const PREFIX = 'flashbell-'
const CACHE = PREFIX + __BUILD__
const PAGE = '/index.html'
/** A server that takes longer than this to hand out a page is away. */
const ANSWER_WITHIN_MS = 3_000

self.addEventListener('install', (event) => {
  event.waitUntil(keepBuild())
})

self.addEventListener('activate', (event) => {
  event.waitUntil(takeOver())
})

self.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== self.location.origin) return
  if (request.mode === 'navigate' && !url.pathname.startsWith('/api/'))
    event.respondWith(newest(request, PAGE))
  else if (isNamedByContent(url.pathname)) event.respondWith(kept(request))
  else if (__PRECACHE__.includes(url.pathname)) event.respondWith(newest(request, url.pathname))
})

/** A build is kept whole or not at all. */
async function keepBuild(): Promise<void> {
  const cache = await caches.open(CACHE)
  await cache.addAll(__PRECACHE__.map((path) => new Request(path, { cache: 'reload' })))
  await self.skipWaiting()
}

async function takeOver(): Promise<void> {
  const names = await caches.keys()
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE)
  await Promise.all(old.map((name) => caches.delete(name)))
  await self.clients.claim()
}

/** Fonts come from packages of fixed versions or carry a number, assets a hash: what is kept is right. */
const isNamedByContent = (path: string): boolean =>
  path.startsWith('/assets/') || path.startsWith('/fonts/')

async function kept(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? (await fetch(request))
}

/** From the server, or the stored copy of `path` where no server answers. */
async function newest(request: Request, path: string): Promise<Response> {
  try {
    const answer = await fetch(request, { signal: AbortSignal.timeout(ANSWER_WITHIN_MS) })
    if (answer.ok) return answer
    return (await caches.match(path)) ?? answer
  } catch (trouble) {
    const found = await caches.match(path)
    if (found) return found
    throw trouble
  }
}
