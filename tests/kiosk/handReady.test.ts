import { describe, expect, test } from 'vitest'
import { boothTimers } from '../../kiosk/booth/boothView.ts'
import { mainAct } from '../../kiosk/device/scanPair.ts'
import { chipOf } from '../../kiosk/lanes/chip.ts'
import { endsCool } from '../../kiosk/lanes/heatNow.ts'
import { type Lane, lanesOf } from '../../kiosk/lanes/lanes.ts'
import { nextLine, nextUp } from '../../kiosk/lanes/nextUp.ts'
import { passActs } from '../../kiosk/lanes/pass.ts'
import { wayActs } from '../../kiosk/lanes/waysOut.ts'
import { en } from '../../kiosk/words/all.ts'
import { es } from '../../kiosk/words/es.ts'
import { addPanel, CLEAR_CUP, coat, DOOR, JOB, mix, refusalOf, shopWith } from '../support/given.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { minute, type Shop } from '../support/shop.ts'

/** Work by hand on a film that is not ready for it yet: the lane counts to the moment that the press is judged by. */

const ONE = { least: 1, planned: 1, most: 1 }
const PRIMER = { ...SEALER, sheet: 'primer-2k', stage: 'primer', ready: { sand: 180 } } as const
const HARD = { ...CLEAR, coats: ONE, ready: { polish: 600 } }

const STEP = { sheet: PRIMER.sheet, coats: ONE }
const SANDED = [
  { stage: 'primer', ...STEP },
  { stage: 'sand' },
  { stage: 'clear', sheet: CLEAR.sheet },
]

/** One coat from minute 1 to 3. */
function primed(route: readonly object[] = SANDED, sheet: object = PRIMER): Shop {
  const shop = addPanel(shopWith([sheet, CLEAR]), route)
  return coat(mix(shop, CLEAR_CUP, PRIMER.sheet), CLEAR_CUP, 1, 3)
}

/** A clear whose bake ended at minute 50. */
function baked(sheet: object = HARD): Shop {
  const route = [
    { stage: 'clear', sheet: CLEAR.sheet, coats: ONE },
    { stage: 'cure' },
    { stage: 'polish' },
  ]
  const shop = coat(
    mix(addPanel(shopWith([sheet]), route), CLEAR_CUP, CLEAR.sheet),
    CLEAR_CUP,
    1,
    3,
  )
  shop.do('SetHeatLimit', { job: JOB, maxC: null })
  shop.at(15).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 65 })
  shop.at(17).do('ReadPart', { panel: DOOR })
  shop.at(50).do('EndCure', { panels: [DOOR] })
  return shop
}

const lane = (shop: Shop, min: number): Lane => {
  const [one] = lanesOf(shop.state, minute(min))
  if (!one) throw new Error('no lane')
  return one
}
const chip = (shop: Shop, min: number) => chipOf(lane(shop, min), en, minute(min))
const done = (shop: Shop, min: number) =>
  passActs(shop.state, [lane(shop, min)], en, minute(min)).filter(
    ({ type }) => type === 'DoPrepStep',
  )
const next = (shop: Shop, min: number) =>
  nextUp(shop.state, minute(min))
    .filter(({ thing }) => thing.id === DOOR)
    .map((due) => [nextLine(shop.state, due, en), due.dueAt])
const refusal = (shop: Shop, min: number, step: number) =>
  refusalOf(shop.at(min).send('DoPrepStep', { panel: DOOR, step }))

describe('a primer that is to be sanded', () => {
  const READY = 183

  test('counts to the moment at which sanding is no longer refused', () => {
    const shop = primed()
    expect(refusal(shop, 10, 1)).toMatchObject({ code: 'sandEarly', clearsAt: minute(READY) })
    expect(chip(shop, 10)).toMatchObject({
      big: '2:53:00',
      small: 'to sanding',
      counting: { toMs: minute(READY) },
    })
    expect(es.wall.toHand(es.stage.sand)).toBe('para lijado')
    expect(lane(shop, 10).band).toMatchObject({
      from: minute(3),
      flashTo: minute(READY),
      shutsAt: null,
    })
    expect(next(shop, 10)).toEqual([['Rear door, sanding', minute(READY)]])
    expect(boothTimers(shop.state, en, minute(10)).map(({ chip }) => chip.big)).toContain('2:53:00')
  })

  test('keeps DONE, and expects nobody to press it', () => {
    const shop = primed()
    const keys = done(shop, 10)
    expect(keys.map(({ small }) => small)).toContain('P500')
    expect(keys.filter(({ isMain }) => isMain)).toEqual([])
    expect(mainAct(DOOR, { state: shop.state, words: en, now: minute(10) }).kind).toBe('problem')
  })

  test('from that moment on it is to be sanded', () => {
    const shop = primed().at(READY)
    expect(chip(shop, READY)).toMatchObject({ big: 'SANDING', small: 'by hand', counting: null })
    expect(next(shop, READY)).toEqual([])
    const [main] = done(shop, READY).filter(({ isMain }) => isMain)
    expect(main?.small).toBe('P500')
    shop.do(main?.type ?? '', main?.datas[0] ?? {})
  })

  test('a paused job is not in what comes next', () => {
    const shop = primed()
    shop.do('PauseJob', { job: JOB })
    expect(next(shop, 10)).toEqual([])
  })

  test('is said as before where nobody has typed from when, and where an eye tells', () => {
    const { ready, ...silent } = PRIMER
    const base = { ...BASE, sheet: PRIMER.sheet, flashBy: 'appearance' }
    const route = [{ stage: 'base', ...STEP }, ...SANDED.slice(1)]
    for (const shop of [primed(SANDED, silent), primed(route, base)]) {
      expect(chip(shop, 10)).toMatchObject({ big: 'SANDING', counting: null })
      expect(done(shop, 10).some(({ isMain }) => isMain)).toBe(true)
      expect(next(shop, 10)).toEqual([])
    }
  })

  test('is not waited for by what the film does not mind', () => {
    const shop = primed([SANDED[0] ?? {}, { stage: 'prep', work: 'degrease' }, SANDED[2] ?? {}])
    expect(chip(shop, 10).counting).toBe(null)
  })
})

describe('a film whose window shut before it is ready for paper', () => {
  const SHUT = 33
  const READY = 183
  const shut = (afterWindow = 'abrade') => {
    const recoatWithin = [{ atC: 20, minutes: 30 }]
    const sheet = { ...PRIMER, recoatWithin, afterWindow }
    return primed([SANDED[0] ?? {}, { stage: 'clear', sheet: CLEAR.sheet }], sheet)
  }
  const paper = (shop: Shop, min: number) =>
    passActs(shop.state, [lane(shop, min)], en, minute(min)).filter(
      ({ type }) => type === 'AbradePanel',
    )

  test.each([['abrade'], ['abradeAndRecoat']])(
    'counts to the moment at which paper is no longer refused: %s',
    (after) => {
      const shop = shut(after)
      expect(refusalOf(shop.at(60).send('AbradePanel', { panel: DOOR, grit: 500 }))).toMatchObject({
        code: 'sandEarly',
        clearsAt: minute(READY),
      })
      expect(chip(shop, SHUT - 1).big).not.toContain('ABRADE')
      expect(chip(shop, 60)).toMatchObject({
        big: '2:03:00',
        small: 'to abrade',
        counting: { toMs: minute(READY) },
      })
      expect(paper(shop, 60).length).toBeGreaterThan(0)
      expect(paper(shop, 60).filter(({ isMain }) => isMain)).toEqual([])
      // A refused coat offers no key that would be refused as well.
      expect(wayActs('windowShut', paper(shop, 60))).toEqual([])
    },
  )

  test('is listed among what comes next until then', () => {
    const waits = ['Rear door, abrade', minute(READY)]
    expect(next(shut().at(60), 60)).toContainEqual(waits)
    expect(next(shut().at(SHUT - 1), SHUT - 1)).not.toContainEqual(waits)
    expect(next(shut().at(READY), READY)).not.toContainEqual(waits)
  })

  test('from that moment on it is to be abraded, and abraded it is open', () => {
    const shop = shut().at(READY)
    expect(chip(shop, READY)).toMatchObject({ big: 'ABRADE', counting: null })
    const [main] = paper(shop, READY).filter(({ isMain }) => isMain)
    expect(wayActs('windowShut', paper(shop, READY))).toEqual([main])
    shop.do(main?.type ?? '', main?.datas[0] ?? {})
    expect(lane(shop, READY).waits.for).toBe('coat')
  })
})

describe('a clear that is to be polished after its bake', () => {
  const COOL = 80

  test('counts to when it may be, and does not ask to measure what is then refused again', () => {
    const shop = baked()
    const refused = refusal(shop, 51, 2)
    expect(refused).toMatchObject({ code: 'notReady', clearsAt: minute(COOL + 600) })
    expect(chip(shop, 51)).toMatchObject({
      small: 'to polish',
      counting: { toMs: minute(COOL + 600) },
    })
    expect(lane(shop, 51).band).toMatchObject({ from: minute(50), flashTo: minute(COOL + 600) })
    expect(endsCool(refused, lane(shop, 51).hotUntil)).toBe(false)
    expect(done(shop, 51).some(({ isMain }) => isMain)).toBe(false)
  })

  test('measured cool, its time runs from then', () => {
    const shop = baked()
    shop.at(60).do('ReadPart', { panel: DOOR, partC: 35 })
    expect(chip(shop, 61).counting).toEqual({ toMs: minute(660) })
  })

  test.each([
    ['ready at once when cool', 'none'],
    ['of which nobody has typed it', null],
  ])('%s: it is measured, or left to cool', (_, after) => {
    const shop = baked({ ...HARD, ready: {} })
    if (after) shop.do('SetShopFigure', { sheet: CLEAR.sheet, ready: { for: 'polish', after } })
    const refused = refusal(shop, 51, 2)
    expect(chip(shop, 51)).toMatchObject({ small: 'until cool', counting: { toMs: minute(COOL) } })
    expect(endsCool(refused, lane(shop, 51).hotUntil)).toBe(true)
    expect(done(shop, 51).some(({ isMain }) => isMain)).toBe(after === null)
  })
})
