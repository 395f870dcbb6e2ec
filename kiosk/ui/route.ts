import { type ReadonlySignal, signal } from '@preact/signals'

/** Which screen is shown, and of what: "#/scan/K7QDM2XV" is screen "scan", rest ["K7QDM2XV"]. */
export type Route = { readonly screen: string; readonly rest: readonly string[] }

export function parseRoute(hash: string): Route {
  const [screen = '', ...rest] = hash
    .replace(/^#?\/?/, '')
    .split('/')
    .map(decoded)
  return { screen, rest }
}

/** A hash typed by hand may hold a lone percent sign; it is shown unchanged. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part)
  } catch {
    return part
  }
}

export const hashOf = (screen: string, ...rest: readonly string[]): string =>
  `#/${[screen, ...rest].map(encodeURIComponent).join('/')}`

/** The route of a window as a signal. In the hash, so that every screen is one page that an offline kiosk holds. */
export function routeOf(page: Window): ReadonlySignal<Route> {
  const route = signal(parseRoute(page.location.hash))
  page.addEventListener('hashchange', () => {
    route.value = parseRoute(page.location.hash)
  })
  return route
}
