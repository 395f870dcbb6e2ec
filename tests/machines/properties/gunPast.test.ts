import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Draft } from '../../../machines/envelope.ts'
import { folders } from '../../../machines/folders.ts'
import { isPastForgotten } from '../../../machines/gun/past.ts'
import { patience, tries } from '../../support/randomRuns.ts'
import { expectSame } from '../../support/randomStates.ts'

type GunEntry = Pick<Draft, 'type' | 'data' | 'zone'>
const loadOf = (sheet: string) => ({
  ...{ cup: `C-${sheet}`, sheet, name: sheet, colour: null, clocks: [], untilMs: 1 },
})
const saved = (needleMm: number): GunEntry => ({ type: 'GunSaved', data: { needleMm } })
const put = (sheet: string): GunEntry => ({ type: 'GunLoaded', data: { load: loadOf(sheet) } })
const CLEANED: GunEntry = { type: 'GunCleaned', data: {} }
const facts = fc.constantFrom<GunEntry>(
  ...[saved(1.2), saved(1.4), put('base'), put('clear')],
  // Without what was loaded: taken in one state and not in another.
  ...[
    { type: 'GunLoaded', data: {} },
    { type: 'GunRinsed', data: {} },
  ],
  ...[CLEANED, { ...CLEANED, zone: 'booth' }],
)

function drafted(one: GunEntry, n: number): Draft {
  const id = `gun-fact-${n}`
  const at = n * 60_000
  const from = { shop: 'SHAPSHAP', device: null, by: null, command: id, seq: n }
  return { ...from, ...one, id, version: 1, at, enteredAt: at, gun: 'gun-1' }
}
const past = fc
  .array(facts, { minLength: 1, maxLength: 14 })
  .map((all) => all.map((one, n) => drafted(one, n)))

const { blank, step } = folders.gun
const folded = (entries: readonly Draft[]) => entries.reduce((gun, e) => step(gun, e), blank)

describe('a gun of which a part of its past is let go of', { timeout: patience }, () => {
  test('stands as it does by what is left alone, where that is said not to rest on the rest', () => {
    let forgotten = 0
    let needed = 0
    fc.assert(
      fc.property(past, (all) => {
        const whole = folded(all)
        for (let from = 1; from < all.length; from += 1) {
          const rest = all.slice(from)
          const spec = all.slice(0, from).filter(({ type }) => type === 'GunSaved')
          const alone = folded([...spec, ...rest])
          const isSame = Bun.deepEquals(alone.context, whole.context)
          if (!isPastForgotten(rest)) {
            if (!isSame) needed += 1
            continue
          }
          forgotten += 1
          const kept = new Set(rest.map(({ id }) => id))
          const notTaken = whole.notTaken.filter((id) => kept.has(id))
          expectSame(alone, { ...whole, notTaken })
        }
      }),
      tries(400),
    )
    expect(forgotten).toBeGreaterThan(0)
    expect(needed).toBeGreaterThan(0)
  })
})
