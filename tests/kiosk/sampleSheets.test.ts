import { expect, test } from 'vitest'
import { sampleSheets } from '../../kiosk/wall/sampleSheets.ts'

/** The sample sheets of a shop in Spanish: their words are ours to translate, their figures stay. */

type Text = readonly [key: string, text: string]
const isText = (key: string) => key === 'name' || key === 'words'

/** The names and hazards of a file of sheets, and the file without them. */
function split(file: object): { readonly texts: readonly Text[]; readonly rest: unknown } {
  const texts: Text[] = []
  const rest: unknown = JSON.parse(JSON.stringify(file), (key, value: unknown) => {
    if (!isText(key)) return value
    texts.push([key, String(value)])
    return undefined
  })
  return { texts, rest }
}

/** Painters say these in both languages. */
const SAME = ['primer']

test('every name and hazard of the samples is in the shop’s language, and nothing else differs', () => {
  const [en, es] = [split(sampleSheets('en')), split(sampleSheets('es'))]
  expect(es.rest).toEqual(en.rest)
  expect(es.texts).toHaveLength(en.texts.length)
  const english = en.texts.flatMap(([, text], i) => (es.texts[i]?.[1] === text ? [text] : []))
  expect(english.filter((text) => !SAME.includes(text))).toEqual([])
  expect(es.texts).toContainEqual(['words', 'INFLAMABLE'])
})
