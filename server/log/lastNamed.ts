import type { Database } from 'bun:sqlite'
import { THING_KEYS, type ThingKey } from '../../machines/envelope.ts'
import { lastBy, lastOfRest, type Side, SO_FAR_BACK } from './named.ts'
import type { Stored } from './statements.ts'

/**
 * The last entry of a thing that is of a type. A booth is named by all that was ever sprayed in it, and its fans were
 * never set: among the years of either it would be looked for in vain. So some of what names the thing and some of what
 * is of the type are looked through in turn, until one of the two holds it or has no more.
 */

/** So many at a time: each takes some microseconds. */
export const LAST_MOST = 500

type At = Stored & { readonly at: number }
type Asked = {
  readonly shop: string
  readonly key: ThingKey
  readonly id: string
  readonly type: string
  readonly toAt: number
}

const laterOf = (a: At | null, b: At | null): At | null => {
  if (a === null || b === null) return a ?? b
  return b.at > a.at || (b.at === a.at && b.position > a.position) ? b : a
}

/** @param db of openLogFile */
export function lastNamedOn(db: Database, most: number) {
  type Span = { shop: string; id: string; fromAt: number; toAt: number }
  const each = <T>(make: (key: ThingKey) => T): ReadonlyMap<ThingKey, T> =>
    new Map(THING_KEYS.map((key) => [key, make(key)]))
  const rest = each((key) =>
    db.prepare<At, { shop: string; id: string; type: string; toAt: number }>(lastOfRest(key)),
  )
  const byThing = each((key) => db.prepare<At, Span & { type: string }>(lastBy('thing', key)))
  const byType = each((key) => db.prepare<At, Span & { thing: string }>(lastBy('type', key)))
  const back = db.prepare<
    { at: number },
    { shop: string; key: string; id: string; toAt: number; most: number }
  >(SO_FAR_BACK)

  /** One piece of a side: what was found in it, and from when on the next one goes back; null where there is none. */
  function pieceOf(side: Side, { shop, key, id, type }: Asked, toAt: number) {
    const [of, named] = side === 'thing' ? ([key, id] as const) : (['type', type] as const)
    const fromAt = back.get({ shop, key: of, id: named, toAt, most })?.at ?? null
    const span = { shop, id: named, fromAt: fromAt ?? 0, toAt }
    const found =
      side === 'thing'
        ? byThing.get(key)?.get({ ...span, type })
        : byType.get(key)?.get({ ...span, thing: id })
    return { found: found ?? null, nextAt: fromAt === null ? null : fromAt - 1 }
  }

  /** @param turn waited for between two pieces */
  return async (asked: Asked, turn: () => Promise<void>): Promise<Stored | null> => {
    const { shop, key, id, type } = asked
    const unnamed = rest.get(key)?.get({ shop, id, type, toAt: asked.toAt }) ?? null
    const toAt: Record<Side, number> = { thing: asked.toAt, type: asked.toAt }
    for (;;) {
      for (const side of ['thing', 'type'] as const) {
        const { found, nextAt } = pieceOf(side, asked, toAt[side])
        if (found !== null || nextAt === null) return laterOf(found, unnamed)
        toAt[side] = nextAt
      }
      await turn()
    }
  }
}
