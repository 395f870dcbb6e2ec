import { customAlphabet } from 'nanoid'
import { ID_ALPHABET } from '../../machines/accept.ts'

/**
 * Ids are made by the sender. nanoid takes them from crypto.getRandomValues, which also a page on
 * plain http has.
 */

/** Id of a job, panel or cup, as printed on a label. */
export const thingId = customAlphabet(ID_ALPHABET, 8)

/** Id of a command. */
export const commandId = customAlphabet(`${ID_ALPHABET}abcdefghjkmnpqrstvwxyz`, 16)
