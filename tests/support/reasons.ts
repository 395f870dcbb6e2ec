import type { RefusalCode } from '../../machines/refusals.ts'
import {
  addPanel,
  air,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  mix,
  queued,
  shopWith,
  startCoat,
  vanWith,
  WING,
} from './given.ts'
import { BASE, CLEAR } from './sheets.ts'
import { type Answer, minute, type Shop } from './shop.ts'

/** For every reason why a command is not accepted a shop that meets it. */

const FRESH = 'FFFF2222'
const clear = startCoat(CLEAR_CUP)
const onDoor = { panels: [DOOR] }
const cleared = (more: object = {}): Shop =>
  coat(vanWith(CLEAR_ONLY, [BASE, { ...CLEAR, ...more }]), CLEAR_CUP, 1, 5)
const curing = (mode: string): Shop => {
  const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
  shop.at(30).do('StartCure', { ...onDoor, mode })
  return shop
}
const rung = (): Shop => {
  const shop = cleared()
  shop.at(60).do('RingBell', { key: `potOver:${CLEAR_CUP}` })
  return shop
}

/** A panel, and a cup of clear 2:1 in which these weights were poured. */
function poured(pouredG: readonly number[]): Shop {
  const shop = addPanel(shopWith(), CLEAR_ONLY)
  return mix(shop, CLEAR_CUP, CLEAR.sheet, { pouredG })
}

/** What waited in a kiosk's queue for an hour. */
const late = (type: string, data: object) =>
  vanWith(CLEAR_ONLY)
    .at(60)
    .send(type, data, { at: minute(1), enteredAt: minute(1) })

/** For every reason why a command is not accepted: a shop's past, and a command that meets it. */
export const REASONS: Record<RefusalCode, () => Answer> = {
  unknownThing: () => vanWith(CLEAR_ONLY).send('ReachCover', { panel: WING }),
  idTaken: () => vanWith(CLEAR_ONLY).send('OpenJob', { job: JOB, title: 'Another' }),
  closed: () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('CloseJob', { job: JOB, override: { reason: 'Called off' } })
    return clear(shop)
  },
  coatRunning: () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('StartCoat', { ...onDoor, cup: CLEAR_CUP })
    return clear(shop)
  },
  wrongStep: () =>
    vanWith([{ stage: 'prep' }, ...CLEAR_ONLY]).send('SkipStep', {
      panel: DOOR,
      step: 1,
      reason: 'None',
    }),
  windowShut: () => clear(cleared().at(485)),
  flashNotOver: () => clear(cleared().at(14)),
  lookFirst: () => clear(cleared({ flashBy: 'appearance' }).at(16)),
  cleanerWet: () => {
    const shop = vanWith([{ stage: 'prep' }, ...CLEAR_ONLY])
    shop.do('DoPrepStep', { panel: DOOR, step: 0, work: 'degrease' })
    return clear(shop)
  },
  notReady: () => cleared({ ready: { polish: 60 } }).send('PolishPanel', { panel: DOOR }),
  sandEarly: () => cleared({ ready: { sand: 60 } }).send('DenibPanel', { panel: DOOR, grit: 1500 }),
  wantsBase: () => {
    const colours = [{ key: 'body', code: 'S-1', kind: 'metallic' }]
    const shop = shopWith()
    shop.do('OpenJob', { job: JOB, title: 'Van', colours })
    addPanel(shop, [{ ...BASE_CLEAR[0], colour: 'body', coats: { planned: 1 } }, BASE_CLEAR[1]])
    mix(mix(shop, BASE_CUP, BASE.sheet), CLEAR_CUP, CLEAR.sheet)
    coat(shop, BASE_CUP, 1, 3).at(20).do('DenibPanel', { panel: DOOR, grit: 1500 })
    return clear(shop)
  },
  heatInZone: () =>
    startCoat(CLEAR_CUP, { panels: [WING] })(
      addPanel(curing('bake'), CLEAR_ONLY, { panel: WING, name: 'Side' }),
    ),
  wetInZone: () => {
    const shop = coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3)
    coat(shop, CLEAR_CUP, 13, 15)
    coat(addPanel(shop, CLEAR_CURE, { panel: WING, name: 'Side' }), CLEAR_CUP, 24, 25, {
      panels: [WING],
    })
    return shop.at(29).send('StartCure', { ...onDoor, mode: 'bake' })
  },
  panelUnknown: () => late('AbradePanel', { panel: WING, grit: 800 }),
  jobUnknown: () => late('PauseJob', { job: 'KKKK2222' }),
  cupUnknown: () => startCoat(FRESH)(vanWith(CLEAR_ONLY)),
  cupEmptied: () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    return clear(shop)
  },
  wrongProduct: () => startCoat(BASE_CUP)(vanWith(CLEAR_ONLY)),
  wrongColour: () => {
    const shop = vanWith([{ ...BASE_CLEAR[0], colour: 'white' }])
    return startCoat(FRESH)(mix(shop, FRESH, BASE.sheet, { colour: 'grey' }))
  },
  colourOff: () => {
    const shop = vanWith([{ ...BASE_CLEAR[0], colour: 'white' }])
    shop.do('ChangeSettings', { colour: { match: 1, blend: 2, atGun: true } })
    return startCoat(FRESH)(mix(shop, FRESH, BASE.sheet, { colour: 'white' }))
  },
  inductionNotOver: () =>
    clear(vanWith(CLEAR_ONLY, [{ ...CLEAR, induction: [{ atC: 20, minutes: 20 }] }])),
  potLifeOver: () => clear(vanWith(CLEAR_ONLY).at(60)),
  keepOver: () => startCoat(BASE_CUP)(vanWith([BASE_CLEAR[0]]).at(30 * 1440)),
  ratioOff: () => clear(poured([200, 94])),
  noActivator: () => clear(poured([200, 0])),
  gunHolds: () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('LoadGun', { gun: 'gun-1', cup: BASE_CUP })
    return startCoat(CLEAR_CUP, { gun: 'gun-1' })(shop)
  },
  gunEmpty: () => vanWith(CLEAR_ONLY).send('PourBack', { gun: 'gun-1', cup: CLEAR_CUP }),
  airOutside: () => clear(air(vanWith(CLEAR_ONLY), 1, 14)),
  dewPoint: () => clear(air(vanWith(CLEAR_ONLY), 1, 20, 0.8, { surfaceC: 18 })),
  partTemp: () => clear(air(vanWith(CLEAR_ONLY), 1, 20, 0.3, { surfaceC: 9 })),
  partHot: () => {
    const shop = curing('bake')
    shop.at(90).do('EndCure', onDoor)
    const REASON = { reason: 'asked for' }
    shop.do('AbradePanel', { panel: DOOR, grit: 800, override: REASON })
    mix(shop.at(91), FRESH, CLEAR.sheet)
    return startCoat(FRESH, { step: 0 })(shop)
  },
  noPerson: () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
    return clear(shop)
  },
  tooManyCoats: () => clear(coat(coat(cleared(), CLEAR_CUP, 15, 16), CLEAR_CUP, 26, 27).at(37)),
  filmOver: () => {
    const shop = coat(vanWith(CLEAR_ONLY, [{ ...CLEAR, maxFilmUm: 49 }]), CLEAR_CUP, 1, 5)
    return clear(shop.at(15))
  },
  openFade: () => clear(vanWith([{ ...CLEAR_ONLY[0], face: 'spot' }])),
  forcedNoFigure: () => {
    const sheet = { ...CLEAR, medium: 'waterborne' }
    const shop = coat(vanWith(CLEAR_ONLY, [sheet]), CLEAR_CUP, 1, 5)
    shop.do('SetAirMovers', { zone: 'booth', on: true })
    shop.do('InspectCoat', { panel: DOOR, result: 'matt' })
    return clear(shop)
  },
  cleanerOver: () => {
    const shop = vanWith([{ ...BASE_CLEAR[0], coats: { planned: 1 } }, { stage: 'prep' }])
    coat(shop, BASE_CUP, 1, 3).at(20)
    return shop.send('DoPrepStep', { panel: DOOR, step: 1, work: 'degrease' })
  },
  optionOutside: () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('ReadClimate', { zone: 'bench', airC: 28, rh: 0.5 })
    const mix = { cup: FRESH, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' }
    return shop.send('MixCup', mix)
  },
  tooFewCoats: () => cleared().send('ReachCover', { panel: DOOR }),
  nothingThere: () => vanWith(CLEAR_ONLY).send('InspectCoat', { panel: DOOR, result: 'good' }),
  noRoom: () =>
    vanWith(CLEAR_ONLY).send('PourCup', { cup: FRESH, from: [{ cup: CLEAR_CUP, ml: 326 }] }),
  neverCures: () => {
    const shop = poured([200, 0]).at(1)
    shop.do('StartCoat', { ...onDoor, cup: CLEAR_CUP, override: { reason: 'asked for' } })
    shop.at(3).do('FinishCoat', onDoor)
    return shop.send('PassPanel', { panel: DOOR })
  },
  coatsMissing: () => vanWith(CLEAR_CURE).send('StartCure', { ...onDoor, mode: 'air' }),
  noSuchCure: () => {
    const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    return shop.at(30).send('StartCure', { ...onDoor, mode: 'infrared' })
  },
  vehicleLimit: () => {
    const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    shop.do('SetHeatLimit', { job: JOB, maxC: 60 })
    return shop.at(30).send('StartCure', { ...onDoor, mode: 'bake', setC: 61 })
  },
  overheated: () => {
    const hot = { ...CLEAR, limits: { maxPartC: 80 } }
    const shop = coat(coat(vanWith(CLEAR_CURE, [hot]), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    shop.at(30).do('StartCure', { ...onDoor, mode: 'bake' })
    return shop.at(40).send('ReadPart', { panel: DOOR, partC: 80.1 })
  },
  curing: () => curing('air').send('AbradePanel', { panel: DOOR, grit: 800 }),
  notCuring: () => vanWith(CLEAR_CURE).send('EndCure', onDoor),
  cureNotOver: () => curing('air').send('PassPanel', { panel: DOOR }),
  stepsLeft: () => vanWith([{ stage: 'polish' }]).send('PassPanel', { panel: DOOR }),
  routeInUse: () => cleared().send('SetRoute', { panel: DOOR, route: [{ stage: 'prep' }] }),
  panelsOpen: () => vanWith(CLEAR_ONLY).send('CloseJob', { job: JOB }),
  deviationsOpen: () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 3)
    queued(shop.at(6), 4, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    queued(shop, 6, 'FinishCoat', { panels: [DOOR] })
    shop.at(30).do('PassPanel', { panel: DOOR, override: { reason: 'unfinished' } })
    return shop.send('CloseJob', { job: JOB })
  },
  jobState: () => vanWith(CLEAR_ONLY).send('ResumeJob', { job: JOB }),
  bellNotDue: () => vanWith(CLEAR_ONLY).send('RingBell', { key: `potOver:${CLEAR_CUP}` }),
  snoozeNotAllowed: () => rung().send('SnoozeBell', { key: `potOver:${CLEAR_CUP}`, minutes: 1 }),
  entryInUse: () => {
    const shop = vanWith(CLEAR_ONLY)
    const [mixed] = shop.entries.filter((e) => e.cup === CLEAR_CUP)
    coat(shop, CLEAR_CUP, 1, 2)
    return shop.send('VoidEntry', { entry: mixed?.id, reason: 'Wrong cup' })
  },
}
