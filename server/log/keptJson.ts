import { sha256 } from './canonical.ts'

/**
 * JSON that is kept beside the log, where no chain vouches for it: the beginning of its hash stands
 * before it, so that a disk that changed a byte of it is found out.
 */

const DIGITS = 8

export function keptText(value: unknown): string {
  const body = JSON.stringify(value)
  return `${sha256(body).slice(0, DIGITS)} ${body}`
}

/** @returns null where it is not as it was written */
export function readKept<T>(text: string): { readonly value: T } | null {
  const body = text.slice(DIGITS + 1).trimEnd()
  if (sha256(body).slice(0, DIGITS) !== text.slice(0, DIGITS)) return null
  return parsed<T>(body)
}

/** The same, also as earlier builds kept it: the JSON alone. */
export const readKeptOrBare = <T>(text: string): { readonly value: T } | null =>
  /^[0-9a-f]{8} /.test(text) ? readKept<T>(text) : parsed<T>(text)

function parsed<T>(body: string): { readonly value: T } | null {
  try {
    return { value: JSON.parse(body) }
  } catch {
    return null
  }
}
