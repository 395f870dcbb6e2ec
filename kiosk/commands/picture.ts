import type { Fetch } from './link.ts'
import type { Pressed, QueuedCommand } from './queuedCommand.ts'
import type { ToldError } from './refusalText.ts'

/** Pictures on their way: the bytes go first, under the name that their command then puts into the log. */

export type Picture = Uint8Array<ArrayBuffer>

/** The picture that a command names; null for most. */
export function pictureOf({ type, data }: Pick<Pressed, 'type' | 'data'>): string | null {
  const { photo } = data as { readonly photo?: unknown }
  return type === 'AddPhoto' && typeof photo === 'string' ? photo : null
}

/**
 * What is sent next, at most this many: a picture's command starts a batch of its own, for its bytes go
 * between what was pressed before it and itself.
 */
export function batchOf(open: readonly QueuedCommand[], most: number): readonly QueuedCommand[] {
  const next = open.findIndex(({ command }, i) => i > 0 && pictureOf(command) !== null)
  return open.slice(0, next === -1 ? most : Math.min(most, next))
}

/** `wrong`: the server says why, and would say so again. `away`: try again later. */
type PictureSent =
  | { readonly kind: 'there' }
  | { readonly kind: 'wrong'; readonly error: ToldError }
  | { readonly kind: 'away' }

const ANSWER_WITHIN_MS = 20_000

/** Sends the bytes; the server keeps the same picture once, however often it comes. Never rejects. */
export async function sendPicture(fetcher: Fetch, bytes: Picture): Promise<PictureSent> {
  try {
    const response = await fetcher('/api/photos', {
      method: 'POST',
      body: bytes,
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    })
    const body = (await response.json()) as { error?: ToldError }
    if (response.ok) return { kind: 'there' }
    if (!body.error || response.status >= 500) return { kind: 'away' }
    return { kind: 'wrong', error: { ...body.error, field: 'photo' } }
  } catch {
    return { kind: 'away' }
  }
}
