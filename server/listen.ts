import { StartError } from './data.ts'
import type { Env } from './http.ts'
import type { Listening } from './serve.ts'

/** Only this computer is answered. */
const HOST = '127.0.0.1'

export type Fetch = (request: Request, env: Env['Bindings']) => Response | Promise<Response>

/**
 * Opens a port of this computer.
 * @param port 0 takes a free one
 * @param setting where another port is named
 * @throws StartError where the port is taken or not allowed
 */
export function listen(port: number, fetch: Fetch, setting = '--port'): Listening {
  try {
    const server = Bun.serve({
      hostname: HOST,
      port,
      // Bun shares a port that is taken, unless told not to or in development.
      reusePort: false,
      // Bun's page for a fault would show the program's sources.
      development: false,
      fetch: (request, own) => fetch(request, { server: own }),
    })
    return {
      url: `http://${HOST}:${server.port}`,
      pending: () => server.pendingRequests,
      stop: () => server.stop(true),
    }
  } catch (cause) {
    const errno = cause instanceof Error && 'code' in cause ? String(cause.code) : ''
    const at = { host: HOST, port, setting }
    throw new StartError(
      errno === 'EADDRINUSE'
        ? { code: 'portTaken', params: at }
        : { code: 'portRefused', params: { ...at, errno } },
      cause,
    )
  }
}
