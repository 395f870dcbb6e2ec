import { describe, expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import {
  addPanel,
  air,
  around,
  bells,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  DOOR,
  dueMin,
  minuteOf,
  mix,
  panelOf,
  refusalOf,
  said,
  shopWith,
  vanWith,
  WING,
  whereIs,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Answer, Shop } from '../../support/shop.ts'

/** Two coats of clear from a cup mixed so, the last finished at minute 15; a cure is due. */
function cleared(more: object = {}, chosen: object = {}): Shop {
  const shop = addPanel(shopWith([{ ...CLEAR, ...more }]), CLEAR_CURE)
  mix(shop, CLEAR_CUP, CLEAR.sheet, chosen)
  return coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
}
function curing(mode: string, more: object = {}, chosen: object = {}): Shop {
  const shop = cleared(more, chosen)
  shop.at(30).do('StartCure', { panels: [DOOR], mode })
  return shop
}
const pass = (shop: Shop): Answer => shop.send('PassPanel', { panel: DOOR })

describe('an air cure', () => {
  test("is over after the sheet's time, and a bell says so", () => {
    const shop = curing('air')
    expect(dueMin(shop, 'cureOver')).toBe(30 + 720)
    expect(around(shop, 750, pass)).toEqual(['cureNotOver', 'done'])
  })

  test('waits for no standing flash: it begins when it is said', () => {
    const shop = cleared()
    expect(shop.at(16).do('StartCure', { panels: [DOOR], mode: 'air' })).toHaveLength(1)
  })

  test('is longer in cold air, and never shorter than the sheet in warm', () => {
    expect(
      dueMin(
        air(curing('air', { cure: { air: [{ atC: 20, minutes: 20 }] }, limits: {} }), 30, 10),
        'cureOver',
      ),
    ).toBe(70)
    expect(
      dueMin(air(curing('air', { cure: { air: [{ atC: 20, minutes: 20 }] } }), 30, 30), 'cureOver'),
    ).toBe(50)
  })

  test('is refused where the sheet gives none', () => {
    const refusal = refusalOf(
      cleared({ cure: {} })
        .at(30)
        .send('StartCure', { panels: [DOOR], mode: 'air' }),
    )
    expect(refusal.message).toBe('Rear door: The sheet gives no air cure. It gives none.')
  })

  test("an activator's own cure replaces the sheet's", () => {
    const fast = { name: 'fast', fromC: 10, toC: 20, cure: { air: [{ atC: 20, minutes: 200 }] } }
    const shop = curing('air', { activators: [fast] }, { activator: 'fast' })
    expect(dueMin(shop, 'cureOver')).toBe(230)
  })

  test('a later edit of the sheet does not move it', () => {
    const shop = curing('air')
    shop.do('SaveSheet', { sheet: { ...CLEAR, cure: { air: [{ atC: 20, minutes: 60 }] } } })
    expect(dueMin(shop, 'cureOver')).toBe(750)
  })

  test('ended early it is kept with what it lacks; the film wants another', () => {
    const shop = curing('air')
    const [draft] = shop.at(100).do('EndCure', { panels: [DOOR] })
    expect(draft?.outside?.[0]?.code).toBe('cureNotOver')
    expect(said(pass(shop))).toBe('cureNotOver')
    shop.do('StartCure', { panels: [DOOR], mode: 'air' })
    expect(dueMin(shop, 'cureOver')).toBe(820)
  })
})

describe('an infrared cure', () => {
  const lamp = { cure: { infrared: { minutes: 12, distanceCm: 80, flashBefore: 5 } } }
  test('waits for its own standing flash', () => {
    const start = (shop: Shop) => shop.send('StartCure', { panels: [DOOR], mode: 'infrared' })
    expect(around(cleared(lamp), 20, start)).toEqual(['flashNotOver', 'done'])
    expect(dueMin(cleared(lamp), 'mayGoToHeat')).toBe(20)
  })

  test('is over after its minutes, whatever the air is', () => {
    const shop = air(curing('infrared', lamp), 30, 5)
    expect(around(shop, 42, pass)).toEqual(['cureNotOver', 'done'])
  })

  test('where lamp and oven are given, each has a bell at its own standing flash', () => {
    const cure = { ...CLEAR.cure, ...lamp.cure }
    const dues = deadlines(cleared({ cure }).state).filter(({ bell }) => bell === 'mayGoToHeat')
    expect(dues.map(({ mode, dueAt }) => [mode, minuteOf(dueAt)])).toEqual([
      ['infrared', 20],
      ['bake', 25],
    ])
  })
})

describe('a cure of several panels', () => {
  test('begins with one touch, and each panel has its own end', () => {
    const shop = addPanel(cleared(), CLEAR_CURE, { panel: WING, name: 'Side' })
    coat(coat(shop, CLEAR_CUP, 16, 18, { panels: [WING] }), CLEAR_CUP, 28, 30, { panels: [WING] })
    shop.at(50).do('StartCure', { panels: [DOOR, WING], mode: 'air' })
    expect(bells(shop, 'cureOver')).toEqual([
      ['cureOver', 770],
      ['cureOver', 770],
    ])
    shop.at(770).do('EndCure', { panels: [DOOR, WING] })
    expect([whereIs(shop), whereIs(shop, WING)]).toEqual(['finished', 'finished'])
  })

  test('is refused for all when one is not ready', () => {
    const shop = addPanel(cleared(), CLEAR_CURE, { panel: WING, name: 'Side' }).at(60)
    const refusal = refusalOf(shop.send('StartCure', { panels: [DOOR, WING], mode: 'air' }))
    expect([refusal.code, refusal.panels]).toEqual(['coatsMissing', [WING]])
    expect(panelOf(shop).cure).toBeNull()
  })

  test('is ended for all or none', () => {
    const shop = addPanel(curing('air'), CLEAR_CURE, { panel: WING, name: 'Side' })
    const refusal = refusalOf(shop.at(800).send('EndCure', { panels: [DOOR, WING] }))
    expect([refusal.code, refusal.panels]).toEqual(['notCuring', [WING]])
    expect(panelOf(shop).cure).not.toBeNull()
  })
})

describe('a zone that bakes', () => {
  /** The door bakes in the booth since minute 30. */
  const baking = (): Shop => curing('bake')
  const startSide = (zone: string): string => {
    const shop = addPanel(baking(), CLEAR_CURE, { panel: WING, name: 'Side', zone }).at(31)
    return said(shop.send('StartCoat', { panels: [WING], cup: CLEAR_CUP }))
  }
  test('no coat starts there, but elsewhere it does', () => {
    expect([startSide('booth'), startSide('bay')]).toEqual(['heatInZone', 'done'])
  })

  test('no coat starts on the panel that bakes', () => {
    const answer = baking()
      .at(31)
      .send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(said(answer)).toBe('heatInZone')
  })

  test('is free again once its panel is passed early or removed from the job', () => {
    const ends = [
      ['PassPanel', { panel: DOOR, override: { reason: 'CUSTOMER_CHANGE' } }],
      ['RemovePanel', { panel: DOOR }],
    ] as const
    for (const [type, data] of ends) {
      const shop = addPanel(baking(), CLEAR_CURE, { panel: WING, name: 'Side' }).at(31)
      const start = () => said(shop.fork().send('StartCoat', { panels: [WING], cup: CLEAR_CUP }))
      expect(start()).toBe('heatInZone')
      shop.do(type, data)
      expect(start()).toBe('done')
    }
  })

  test('an air cure blocks no coat, and after the end of the bake coats start again', () => {
    const open = addPanel(curing('air'), CLEAR_CURE, { panel: WING, name: 'Side' }).at(31)
    expect(said(open.send('StartCoat', { panels: [WING], cup: CLEAR_CUP }))).toBe('done')
    const ended = addPanel(baking(), CLEAR_CURE, { panel: WING, name: 'Side' })
    ended.at(40).do('EndCure', { panels: [DOOR] })
    // What stood beside the bake is warm as well.
    ended.do('ReadPart', { panel: WING, partC: 30 })
    expect(said(ended.send('StartCoat', { panels: [WING], cup: CLEAR_CUP }))).toBe('done')
  })
})

describe('passing a panel', () => {
  const refusal = (shop: Shop) => {
    const { code, also, message } = refusalOf(pass(shop))
    return { codes: [code, ...also], message }
  }
  test('is refused for coats, cure and work by hand that are left, in that order', () => {
    const shop = vanWith([{ stage: 'prep' }, ...CLEAR_CURE, { stage: 'polish' }])
    expect(refusal(shop).codes).toEqual(['coatsMissing', 'cureNotOver', 'stepsLeft'])
    expect(refusal(shop).message).toBe('Rear door: Coats are missing: clear.')
  })

  test('is refused while a coat runs, and a second time', () => {
    const shop = vanWith(CLEAR_CURE)
    shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(refusal(shop).codes[0]).toBe('coatRunning')
    const done = vanWith([{ stage: 'polish' }])
    done.do('PolishPanel', { panel: DOOR })
    done.do('PassPanel', { panel: DOOR })
    expect(refusal(done).codes).toEqual(['wrongStep'])
  })

  test('overridden it leaves the rest skipped, and the reason in its entry', () => {
    const shop = cleared()
    const [draft] = shop.do('PassPanel', { panel: DOOR, override: { reason: 'Cures outside' } })
    expect(draft?.override?.codes).toEqual(['cureNotOver'])
    expect(panelOf(shop).status).toEqual(['done', 'skipped'])
  })

  test('a passed panel may still be polished and moved', () => {
    const shop = cleared().at(40)
    shop.do('PassPanel', { panel: DOOR, override: { reason: 'Cures outside' } })
    expect(said(shop.send('PolishPanel', { panel: DOOR }))).toBe('done')
    shop.do('MovePanel', { panel: DOOR, zone: 'yard' })
    expect(panelOf(shop).stays.at(-1)?.zone).toBe('yard')
  })
})
