/**
 * Where a tail goes on: `position:hash8`. The hash tells a log that was cut or restored from the
 * one that was followed before.
 */
export type Place = { readonly position: number; readonly hash: string }

export const tailId = ({ position, hash }: Place): string => `${position}:${hash.slice(0, 8)}`

const ID = /^(\d{1,15})(?::([0-9a-f]{8}))?$/

/** The parts of a tail id, or of a bare position; null for what is neither. */
export function readTailId(
  given: string,
): { readonly position: number; readonly hash8: string | null } | null {
  const [, position, hash8 = null] = ID.exec(given) ?? []
  return position === undefined ? null : { position: Number(position), hash8 }
}
