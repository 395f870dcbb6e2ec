import type { State } from '../machines/state.ts'
import type { App } from './http.ts'
import type { Running } from './serve.ts'

/** After the start, when the kiosks have come back and read the state. */
const AFTER_MS = 1_200

/** The cup that something was said of last: the one that is scanned first. */
function lastCup({ things }: State): string | undefined {
  let last: { readonly id: string; readonly at: number } | undefined
  for (const [id, { entries }] of Object.entries(things.cup)) {
    const at = entries.at(-1)?.at ?? 0
    if (last === undefined || at > last.at) last = { id, at }
  }
  return last?.id
}

/**
 * Asks once what a scan asks, and drops the answer: the first person who scans a cup after a start does not wait
 * while the engine compiles what answers it, some 35 ms of a processor where later ones take 3. Nothing is changed by it.
 * @returns the status of the answer; null where there is no cup
 */
export async function askedOnce(app: App, state: State): Promise<number | null> {
  const cup = lastCup(state)
  if (cup === undefined) return null
  const headers = { Host: '127.0.0.1' }
  const answer = await app.request(`http://127.0.0.1/api/scan/${cup}`, { headers })
  await answer.arrayBuffer()
  return answer.status
}

/** @param report gets why it failed; the first scan then makes itself ready */
export function warmAnswers(
  { app, shops }: Pick<Running, 'app' | 'shops'>,
  report: (error: unknown) => void,
): void {
  setTimeout(() => void askedOnce(app, shops.ownWriter.state()).catch(report), AFTER_MS).unref()
}
