/**
 * How the fields of a code stand in it, and the check digits that end it.
 *
 *   C1-K7F-...-ZC      fields of any length, each behind a -
 *   P2K7FR4TPDXYZ63    fields that have one length each: schema, shop tag, id; a last one may follow
 *
 * The second form has fifteen signs, most often. Sixteen fit the smallest QR at error correction Q (ISO/IEC 18004):
 * it alone has no alignment pattern, which a drop of paint could make a reader seek in the wrong place.
 */

export const SEPARATOR = '-'

/**
 * Two base-36 digits over a text: v = (31 v + byte) mod 1296. It finds every single wrong sign and every swap of
 * two neighbors.
 */
export function checksum(text: string): string {
  let v = 0
  for (const char of text) v = (31 * v + char.charCodeAt(0)) % 1296
  return v.toString(36).toUpperCase().padStart(2, '0')
}

/** Fields of any length with their check digits. */
export function sealed(fields: readonly string[]): string {
  const text = fields.join(SEPARATOR) + SEPARATOR
  return text + checksum(text)
}

/**
 * Fields without separators, with their check digits.
 * @param schema a letter and a digit
 * @param shopTag three signs
 * @param id eight signs
 * @param rest of any length
 */
export function sealedShort(schema: string, shopTag: string, id: string, rest = ''): string {
  const text = schema + shopTag + id + rest
  return text + checksum(text)
}

const SHORT = /^([A-Z][0-9])([A-Z0-9]{3})([A-Z0-9]{8})([A-Z0-9-]+)?([A-Z0-9]{2})$/

/** @returns schema, shop tag, id, what may follow, and check digits, right or not; null for a text of another form */
export const shortFields = (text: string): readonly string[] | null =>
  SHORT.exec(text)
    ?.slice(1)
    .filter((field) => field !== undefined) ?? null

/** Whether a text ends with the checksum of what stands before it: nobody types that by chance. */
export function isSealed(given: string): boolean {
  // Behind the kiosk's address, where the shop has it so; a code itself has no slash.
  const text = given.slice(given.lastIndexOf('/') + 1)
  const seal = shortFields(text) ? text.length - 2 : text.lastIndexOf(SEPARATOR) + 1
  return seal > 1 && checksum(text.slice(0, seal)) === text.slice(seal)
}
