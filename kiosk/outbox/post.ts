import type { Fetch } from '../shop/link.ts'
import { type AnswerBody, meant, type Sent } from '../shop/send.ts'

/** What came back for one command, and up to where the log then reached. */
export type Posted = { readonly sent: Sent; readonly position: number }

const ANSWER_WITHIN_MS = 10_000

type Body = { readonly id: string }
type Answer = { readonly status: number; readonly body: AnswerBody }

/**
 * Sends commands in order: one as it stands, more as an array.
 * @returns an answer for each, or null where nobody answered for them
 */
export async function post(
  fetcher: Fetch,
  bodies: readonly Body[],
): Promise<readonly Posted[] | null> {
  const [only] = bodies
  try {
    const response = await fetcher('/api/commands', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(bodies.length === 1 ? only : bodies),
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    })
    const said: unknown = await response.json()
    const answers = bodies.length === 1 ? [{ status: response.status, body: said }] : said
    if (!Array.isArray(answers)) return null
    return bodies.map(({ id }, i) => postedOf(id, answers[i] as Answer))
  } catch {
    return null
  }
}

const postedOf = (id: string, { status, body }: Answer): Posted => ({
  sent: meant(id, status, body),
  position: body.position ?? 0,
})
