import fc from 'fast-check'
import { expect, test } from 'vitest'
import { CLEAR_CUP, CLEAR_ONLY, cupEndMin, cupOf, mix, vanWith } from '../../support/given.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** Nothing extends a use-by: whatever is poured from whatever, and however the air changes, the first parent binds. */

const IDS = ['RRRR3333', 'SSSS3333', 'TTTT3333', 'VVVV3333', 'WWWW3333']

const leftOf = (shop: Shop, id: string) => {
  const { totalMl, pouredMl } = cupOf(shop, id)
  return totalMl - pouredMl
}

const anyPour = fc.record({
  waitMin: fc.integer({ min: 0, max: 6 }),
  airC: fc.option(fc.integer({ min: 16, max: 32 })),
  // Which of the cups that there are, from the oldest on.
  of: fc.uniqueArray(fc.nat(6), { minLength: 1, maxLength: 3 }),
  share: fc.double({ min: 0.05, max: 0.4, noNaN: true }),
})

test('a poured cup ends with the first of those that it came from, at once and ever after', {
  timeout: patience,
}, () => {
  let poured = 0
  fc.assert(
    fc.property(fc.array(anyPour, { minLength: 1, maxLength: IDS.length }), (pours) => {
      const shop = mix(vanWith(CLEAR_ONLY).at(10), 'FFFF2222', CLEAR.sheet)
      const cups = [CLEAR_CUP, 'FFFF2222']
      const madeOf = new Map<string, readonly string[]>()
      let now = 10
      for (const [n, { waitMin, airC, of, share }] of pours.entries()) {
        now += waitMin
        shop.at(now)
        if (airC !== null) shop.do('ReadClimate', { zone: 'bench', airC, rh: 0.5 })
        const from = [...new Set(of.map((one) => cups[one % cups.length] ?? CLEAR_CUP))]
        const isPast = from.some((cup) => cupEndMin(shop, cup) <= now || leftOf(shop, cup) < 3)
        if (isPast) continue
        const child = IDS[n] ?? ''
        shop.do('PourCup', {
          cup: child,
          from: from.map((cup) => ({
            cup,
            ml: Math.max(1, Math.floor(leftOf(shop, cup) * share)),
          })),
        })
        madeOf.set(child, from)
        cups.push(child)
        poured += 1
      }
      for (const [child, from] of madeOf) {
        expect(cupEndMin(shop, child)).toBeLessThanOrEqual(
          Math.min(...from.map((cup) => cupEndMin(shop, cup))),
        )
        expect(cupOf(shop, child).parents).toEqual(from)
      }
    }),
    tries(100),
  )
  expect(poured).toBeGreaterThan(runs(50))
})
