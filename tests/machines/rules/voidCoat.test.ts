import { describe, expect, test } from 'vitest'
import {
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  idOf,
  JOB,
  refusalOf,
  vanWith,
  voided,
} from '../../support/given.ts'
import type { Shop } from '../../support/shop.ts'

const CHILD = 'KKKK2222'
const cleared = (): Shop => coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)

describe('the refusal of a void', () => {
  test('names what rests on it in the words of the shop, and by its id', () => {
    const shop = cleared()
    const refusal = refusalOf(voided(shop, idOf(shop, 'CupMixed', CLEAR_CUP)))
    expect(refusal.message).toMatch(
      /^Something needs this: \S+ Coat started · clear, Rear door\. Undo that first\.$/,
    )
    expect(refusal.params).toMatchObject({
      limit: { entry: idOf(shop, 'CoatStarted'), needing: { job: JOB, panel: DOOR } },
    })
  })

  test('names a cup where no panel is meant', () => {
    const pour = { cup: CHILD, from: [{ cup: CLEAR_CUP }] }
    const shop = vanWith(CLEAR_ONLY)
    shop.do('PourCup', pour)
    expect(refusalOf(voided(shop, idOf(shop, 'CupMixed', CLEAR_CUP))).message).toContain(
      `Poured together, cup ${CLEAR_CUP}. Undo that first.`,
    )
  })
})
