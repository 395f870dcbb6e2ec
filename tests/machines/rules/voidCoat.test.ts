import { describe, expect, test } from 'vitest'
import { contextOf } from '../../../machines/state.ts'
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

describe('the start of a coat', () => {
  test('is not voided alone where it says what the coat was sprayed from: its end first', () => {
    const shop = cleared()
    const refusal = refusalOf(voided(shop, idOf(shop, 'CoatStarted')))
    expect(refusal.code).toBe('entryInUse')
    expect(refusal.params).toMatchObject({ limit: { entry: idOf(shop, 'CoatFinished') } })
    expect(refusal.message).toContain('Coat finished')
    shop.do('VoidEntry', { entry: idOf(shop, 'CoatFinished'), reason: 'wrong part' })
    shop.do('VoidEntry', { entry: idOf(shop, 'CoatStarted'), reason: 'wrong part' })
    expect(contextOf(shop.state, 'panel', DOOR)?.coats).toEqual([])
  })

  test('is voided where the end of the coat says the cup itself, and while the coat runs', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    const running = shop.fork()
    running.do('VoidEntry', { entry: idOf(running, 'CoatStarted'), reason: 'wrong part' })
    shop.at(5).do('FinishCoat', { panels: [DOOR], cup: CLEAR_CUP })
    shop.do('VoidEntry', { entry: idOf(shop, 'CoatStarted'), reason: 'wrong part' })
    expect(contextOf(shop.state, 'panel', DOOR)?.coats).toMatchObject([{ cups: [CLEAR_CUP] }])
  })
})
