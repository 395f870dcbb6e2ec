import type { Fetch } from './link.ts'
import type { OutboxDb } from './outboxDb.ts'
import { type Picture, pictureOf, sendPicture } from './picture.ts'
import { bodyOf, type QueuedCommand } from './queuedCommand.ts'
import { type AnswerBody, meant, type Sent } from './send.ts'

/** What came back for one command. */
export type Posted = { readonly sent: Sent }

const ANSWER_WITHIN_MS = 10_000

type Body = { readonly id: string }
type Answer = { readonly status: number; readonly body: AnswerBody }

/**
 * Sends commands in order, before the first of them the bytes of the picture that it names. One
 * that is not taken is not named either: the others wait for their own turn.
 * @returns answers from the first on, or null where nobody answered for them
 */
export async function deliver(
  fetcher: Fetch,
  db: Pick<OutboxDb, 'device' | 'picture'>,
  batch: readonly QueuedCommand[],
): Promise<readonly Posted[] | null> {
  const name = batch[0] ? pictureOf(batch[0].command) : null
  const picture = name === null ? null : await db.picture(name)
  const sent = picture === null ? null : await sendPicture(fetcher, picture)
  if (sent?.kind === 'away') return null
  if (sent?.kind === 'wrong') return [{ sent }]
  const posted = await post(
    fetcher,
    batch.map((one) => bodyOf(one, db.device)),
  )
  return picture === null ? posted : (posted?.map(againIfMissing) ?? null)
}

/** The server has no picture that lies here: its bytes are sent again, and then the command. */
function againIfMissing(posted: Posted): Posted {
  const { sent } = posted
  if (sent.kind !== 'refused') return posted
  const code: string = sent.refusal.code
  if (code !== 'photoMissing') return posted
  return { sent: { kind: 'away' } }
}

/**
 * Sends one command that the device could not keep, with the bytes of the picture that it names.
 * @returns null where nobody answered for it
 */
export async function deliverOne(
  fetcher: Fetch,
  device: string,
  one: QueuedCommand,
  picture: Picture | null,
): Promise<Sent | null> {
  const [posted] = (await deliver(fetcher, { device, picture: async () => picture }, [one])) ?? []
  return posted === undefined || posted.sent.kind === 'away' ? null : posted.sent
}

/** One command by itself, several as an array. */
async function post(fetcher: Fetch, bodies: readonly Body[]): Promise<readonly Posted[] | null> {
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
    // Nothing of it could be read, or it is too large: each goes alone, and one holds up no other.
    if (bodies.length > 1 && isOfBody(response.status))
      return await post(fetcher, bodies.slice(0, 1))
    if (!Array.isArray(answers)) return null
    return bodies.map(({ id }, i) => postedOf(id, answers[i] as Answer))
  } catch {
    return null
  }
}

const isOfBody = (status: number): boolean => status === 400 || status === 413

const postedOf = (id: string, { status, body }: Answer): Posted => ({
  sent: meant(id, status, body),
})
