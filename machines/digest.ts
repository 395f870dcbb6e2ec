import { ID_ALPHABET } from './accept.ts'

/** Few signs for a text of any length, for codes with little room. They tell things apart, and prove nothing. */

/** FNV-1a (32 bit) of a text's characters. @param from where it begins: the function's own offset without it */
const fnv1a = (text: string, from = 0x811c9dc5): number =>
  [...text].reduce(
    (hash, char) => Math.imul(hash ^ (char.codePointAt(0) ?? 0), 0x01000193) >>> 0,
    from,
  )

/** A number's last digits, the lowest first, written with the id alphabet. */
const signsOf = (n: number, count: number): string =>
  Array.from({ length: count }, (_, place) => {
    const { length: base } = ID_ALPHABET
    return ID_ALPHABET[Math.floor(n / base ** place) % base] ?? ''
  }).join('')

/** The three signs by which a label says whose it is: enough to tell neighbors apart. */
export const shopTag = (shopId: string): string => signsOf(fnv1a(shopId), 3)

/**
 * Eight signs that stand for an id of any length on a tag. Two of a thousand ids share theirs once in a million shops.
 * @param id as it is written, small letters and all
 */
export function idDigest(id: string): string {
  const first = fnv1a(id)
  return signsOf(first, 4) + signsOf(fnv1a(id, first), 4)
}
