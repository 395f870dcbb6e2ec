import { expect, test } from 'vitest'
import { type Damage, damage } from '../../machines/contract/damage.ts'
import { en } from '../../machines/words/en.ts'
import { es } from '../../machines/words/es.ts'
import { inEnglish, sayIn } from '../../server/say.ts'

/** What is found wrong with a log is a code inside; its sentence is made at the edge, in both languages. */

const loss = { kind: 'short', head: 3, knownHead: 5, knownHash: 'aa', knownAtMs: 0 } as const
const FOUND: readonly Damage[] = [
  damage('gap', { came: 4 }),
  damage('hash', {}),
  damage('notJson', {}),
  damage('notCanonical', {}),
  damage('otherShop', { said: '"S2"' }),
  damage('otherPosition', { said: '7' }),
  damage('otherColumn', { column: 'cup', has: 'null', said: '"CCCC2222"' }),
  damage('recordedBefore', {}),
  damage('cut', { head: 8 }),
  damage('rewritten', {}),
  damage('lacks', { loss }),
  damage('file', { said: 'row 3 missing from index entry_id' }),
  damage('unreadable', { said: 'no page 5' }),
  damage('photoName', { said: '"x"' }),
  damage('photoMissing', { file: '/photos/ab' }),
  damage('photoBytes', { file: '/photos/ab', hash: 'cd' }),
  damage('photoUnreadable', { file: '/photos/ab', said: 'EIO' }),
]

test('every code of damage is named here', () => {
  expect(FOUND.map(({ code }) => code).sort()).toEqual(Object.keys(en.damage).sort())
})

test.each(FOUND)('$code is said in English and in Spanish, with all that was found', (found) => {
  const english = inEnglish(0).damage(found)
  const spanish = sayIn(es, 0).damage(found)
  expect(spanish).not.toBe(english)
  for (const value of Object.values(found.params))
    if (typeof value !== 'object')
      for (const said of [english, spanish]) expect(said).toContain(String(value))
})

test('what verify finds has its sentence beside the code', () => {
  const at = { shop: 'S1', position: 7, id: 'c7.0' }
  const [, found] = FOUND.map((one) => ({ ok: false, ...at, damage: one }) as const)
  if (!found) throw new Error('nothing found')
  expect(inEnglish(0).verdict(found)).toEqual({
    ...found,
    why: 'the hash is not that of the previous hash and this text',
  })
})
