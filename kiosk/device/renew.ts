/** Keeps the page's files for the time without a server, and takes in those of a new build. */

const EMPTY_AGAIN_MS = 2_000
/** How long a new build's worker has to store its files; then the page is reloaded anyway. */
const INSTALL_MS = 20_000
/** A reload that gave the old build again came from a cache in between: do not reload at once again. */
const NOT_AGAIN_MS = 30_000
const MARK = 'flashbell.renewedAt'

/** Asks the browser to keep the files, and what is not sent yet, also when its disk is full. */
export function installed({ navigator }: Window): void {
  const { serviceWorker, storage } = navigator as Partial<Navigator>
  // Both fail in a browser that stores nothing: there the kiosk does not work without its server.
  serviceWorker?.register('/sw.js').catch(() => {})
  storage?.persist?.().catch(() => {})
}

type Renewing = {
  /** Sends what waits; true when nothing waits any more. */
  readonly flush: () => Promise<boolean>
  readonly wait: (ms: number) => Promise<void>
  readonly page: Window
  readonly now: () => number
}

/** The server is of another build: everything pressed on this page is sent, then the page is reloaded. */
export async function renew({ flush, wait, page, now }: Renewing): Promise<void> {
  while (!(await flush())) await wait(EMPTY_AGAIN_MS)
  const { sessionStorage, navigator, location } = page
  const sinceMs = now() - Number(sessionStorage.getItem(MARK) ?? 0)
  if (sinceMs < NOT_AGAIN_MS) await wait(NOT_AGAIN_MS)
  const { serviceWorker } = navigator as Partial<Navigator>
  if (serviceWorker) await Promise.race([newest(serviceWorker), wait(INSTALL_MS)])
  sessionStorage.setItem(MARK, String(now()))
  location.reload()
}

/** Resolves when the worker of the new build has its files. */
async function newest(workers: ServiceWorkerContainer): Promise<void> {
  try {
    const registration = await workers.getRegistration()
    await registration?.update()
    const coming = registration?.installing ?? registration?.waiting
    if (!coming) return
    await new Promise<void>((done) => {
      coming.addEventListener('statechange', () => {
        if (coming.state === 'activated' || coming.state === 'redundant') done()
      })
    })
  } catch {
    // No worker answered: the page itself is requested again.
  }
}
