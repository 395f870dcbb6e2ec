import { expect, test } from 'vitest'
import * as settle from '../../kiosk/words/settle.ts'
import { es } from '../../kiosk/words/trace.es.ts'
import { en } from '../../kiosk/words/trace.ts'
import { DEFECTS } from '../../machines/trace/causes.ts'
import { STRENGTHS } from '../../machines/trace/rank.ts'

/** What a trace says, read for its tone: of conditions, not of people, and never beyond a sheet. */

/** Every sentence of an object of words; one that takes figures is made with some. */
function sentences(words: unknown): string[] {
  if (typeof words === 'string') return [words]
  if (typeof words === 'function') return [String(words('1', '2', '3'))]
  return Object.values(words as object).flatMap(sentences)
}
const ALL = [
  ['English', [...sentences(en), ...sentences(settle.en)]],
  ['Spanish', [...sentences(es), ...sentences(settle.es)]],
] as const

test.each(ALL)('no word of a trace blames a person: %s', (_, all) => {
  const blame =
    /\b(blam|careless|culprit|guilt|neglig|painter|operator|worker|culpa|descuid|pintor|operari)/i
  expect(all.length).toBeGreaterThan(150)
  expect(all.filter((one) => blame.test(one))).toEqual([])
})

test.each(ALL)(
  'no sentence tells anyone to go beyond a sheet or without protection: %s',
  (_, all) => {
    const beyond =
      /\b(ignore|exceed|beyond the (sheet|limit)|without (a |the )?(mask|gloves)|hotter than|más caliente que|sin (la )?(máscara|guantes)|exceder|ignor[ea])\b/i
    expect(all.filter((one) => beyond.test(one))).toEqual([])
  },
)

test.each(ALL)('strength is a word: none is certain, and none is a share: %s', (name, all) => {
  const words = name === 'English' ? en : es
  expect(Object.keys(words.strength).toSorted()).toEqual([...STRENGTHS].toSorted())
  expect(
    sentences(words.strength).filter((one) => /%|\d|certain|proven|segur|prob[óa]d/i.test(one)),
  ).toEqual([])
  // A record is said to prove nothing, and nothing else is said of proof.
  expect(all.filter((one) => /proven|comprobad/i.test(one))).toEqual([])
})

test('every defect has a name, a remedy and a check for each of its causes, in both languages', () => {
  for (const words of [en, es])
    for (const defect of DEFECTS) {
      expect(words.defects[defect].length).toBeGreaterThan(3)
      expect(words.remedies[defect].length).toBeGreaterThan(10)
    }
  for (const [name, text] of Object.entries(es.checks))
    expect(text).not.toBe(en.checks[name as keyof typeof en.checks])
})
