import { Usable } from './data.ts'
import type { Env } from './http.ts'
import type { Listening } from './serve.ts'

/** Only this computer is answered. */
const HOST = '127.0.0.1'

export type Fetch = (request: Request, env: Env['Bindings']) => Response | Promise<Response>

/**
 * Opens a port of this computer.
 * @param port 0 takes a free one
 * @param another how another port is chosen, for the sentence
 * @throws Usable where the port is taken or not allowed
 */
export function listen(
  port: number,
  fetch: Fetch,
  another = 'choose another with --port',
): Listening {
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
    const code = cause instanceof Error && 'code' in cause ? String(cause.code) : ''
    throw new Usable(
      code === 'EADDRINUSE'
        ? `Port ${port} of ${HOST} is taken. Stop what uses it, or ${another}.`
        : `Port ${port} of ${HOST} cannot be opened (${code || 'no reason given'}): ${another}.`,
      { cause },
    )
  }
}
