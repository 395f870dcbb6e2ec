import type { Said, WrongField } from '../../machines/contract.ts'
import type { Refusal } from '../../machines/refusals.ts'
import { en } from '../../machines/words/en.ts'
import { refusalText, wrongText } from '../../machines/words/say.ts'
import { siFigures } from '../../machines/words/si.ts'

/** What the rules answer in codes, with the sentence that an English client of the server gets. */

const iso = (atMs: number): string => new Date(atMs).toISOString()

export const saidWrong = (found: WrongField): Said<WrongField> => ({
  ...found,
  message: wrongText(found, en, siFigures(en, 0, iso)),
})

/** @param now when it was refused, UTC ms */
export const saidRefusal = (refusal: Refusal, now: number): Said<Refusal> => ({
  ...refusal,
  message: refusalText(refusal, en, siFigures(en, now, iso)),
})
