import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { WAYS } from '../../kiosk/lanes/waysOut.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { historyIn } from '../../kiosk/words/historyIn.ts'
import type { CommandType } from '../../machines/commands.ts'
import { REFUSALS, type RefusalCode } from '../../machines/refusals.ts'
import { askedIn, formNamed } from '../support/formPaths.ts'
import { dayOf, evenIntents, intents } from '../support/randomDay.ts'
import { tries } from '../support/randomRuns.ts'
import { type ScreenName, senders, sentBy } from '../support/screenSends.ts'

/**
 * Every rule has its place: the screens that send what it may refuse, all of which show the answer, and in Setup
 * the figure that it goes by. One row a code; a code without a row does not compile.
 */

const CODES = Object.keys(REFUSALS) as RefusalCode[]
const SPRAY = ['StartCoat', 'ContinueCoat'] as const satisfies CommandType[]
const GUN = ['LoadGun', 'PourBack'] as const satisfies CommandType[]
const HAND = ['AbradePanel', 'DenibPanel', 'DoPrepStep'] as const satisfies CommandType[]
const BELL = ['AcknowledgeBell', 'EscalateBell', 'HoldBell', 'RingBell', 'SnoozeBell'] as const

type Row = {
  readonly of: readonly CommandType[]
  /** A field of Setup, or in words why there is none. */
  readonly by: string
}
const NO_FIGURE = 'what is so, not a figure'

const ROWS: { readonly [C in RefusalCode]: Row } = {
  unknownThing: {
    of: [
      ...([
        'AddPanel',
        'ChooseColourCard',
        'MixCup',
        'PourCup',
        'RetirePerson',
        'SetRoute',
      ] as const),
      ...(['RetireSheet', 'MovePanel', 'RemovePanel', 'AddNote', 'MeasureColourCard'] as const),
    ],
    by: NO_FIGURE,
  },
  idTaken: { of: ['OpenJob', 'AddPanel', 'MixCup', 'PourCup'], by: NO_FIGURE },
  closed: {
    of: [
      ...SPRAY,
      ...HAND,
      ...(['AddPanel', 'CloseJob', 'DecideBlend', 'EndCure', 'FinishCoat', 'MixCup'] as const),
      ...(['MeasureColourCard', 'MovePanel', 'PauseJob', 'PolishPanel', 'ResumeJob'] as const),
      ...(['SendBackPanel', 'SetHeatLimit', 'SetRoute', 'VoidEntry', 'InspectCoat'] as const),
      ...(['PassPanel', 'ReachCover', 'ReadFilm', 'ReadPart', 'RemovePanel', 'SkipStep'] as const),
      ...(['StartCure', 'BreakOffCoat', 'AddNote', 'AddPhoto', 'ChooseColourCard'] as const),
    ],
    by: NO_FIGURE,
  },
  coatRunning: {
    of: [
      ...SPRAY,
      ...HAND,
      ...(['ClearZone', 'InspectCoat', 'PassPanel', 'PolishPanel', 'ReachCover'] as const),
      ...(['SendBackPanel', 'SetRoute', 'SkipStep', 'StartCure', 'PurgeZone'] as const),
    ],
    by: NO_FIGURE,
  },
  wrongStep: {
    of: [
      ...SPRAY,
      ...HAND,
      ...(['BreakOffCoat', 'PassPanel', 'ReachCover', 'SetRoute', 'SkipStep'] as const),
      ...(['StartCure', 'SendBackPanel', 'InspectCoat', 'FinishCoat', 'PolishPanel'] as const),
    ],
    by: 'the route, of the job',
  },
  windowShut: { of: SPRAY, by: 'SHEET.recoatWithin' },
  flashNotOver: { of: [...SPRAY, 'StartCure'], by: 'SHEET.flashBetween' },
  lookFirst: { of: [...SPRAY, 'StartCure'], by: 'SHEET.flashBy' },
  cleanerWet: { of: SPRAY, by: 'common practice: 5 min, plastic 10' },
  notReady: { of: [...HAND, 'PolishPanel', 'MovePanel'], by: 'SHEET.ready.polish' },
  sandEarly: { of: HAND, by: 'SHEET.ready.sand' },
  wantsBase: { of: SPRAY, by: 'SHEET.prepFor.gritMax' },
  heatInZone: { of: [...SPRAY, 'MovePanel'], by: 'ZONE.opensTo' },
  wetInZone: { of: ['StartCure'], by: 'ZONE.purgeMin' },
  panelUnknown: { of: [], by: NO_FIGURE },
  jobUnknown: { of: [], by: NO_FIGURE },
  cupUnknown: {
    of: [
      ...SPRAY,
      ...GUN,
      ...(['EmptyCup', 'MoveCup', 'PourCup', 'PrintLabel', 'CheckCup', 'MeasureCup'] as const),
    ],
    by: NO_FIGURE,
  },
  cupEmptied: {
    of: [
      ...SPRAY,
      ...GUN,
      ...(['CheckCup', 'EmptyCup', 'MeasureCup', 'PourCup', 'PrintLabel', 'MoveCup'] as const),
    ],
    by: NO_FIGURE,
  },
  wrongProduct: { of: [...SPRAY, ...GUN, 'PourCup'], by: 'the route, of the job' },
  wrongColour: { of: [...SPRAY, ...GUN, 'PourCup'], by: 'the colors, of the job' },
  colourOff: { of: SPRAY, by: 'SHOP.colour.atGun' },
  inductionNotOver: { of: SPRAY, by: 'SHEET.induction' },
  potLifeOver: { of: [...SPRAY, ...GUN, 'PourCup'], by: 'SHEET.potLife' },
  keepOver: { of: [...SPRAY, ...GUN, 'PourCup'], by: 'SHEET.keepDays' },
  ratioOff: { of: [...SPRAY, ...GUN, 'PourCup'], by: 'SHEET.ratioTolerance' },
  noActivator: { of: [...SPRAY, ...GUN, 'PourCup'], by: 'SHEET.components.role' },
  gunHolds: { of: [...SPRAY, ...GUN, 'RinseGun'], by: NO_FIGURE },
  gunEmpty: { of: ['PourBack'], by: NO_FIGURE },
  airOutside: { of: SPRAY, by: 'SHEET.limits.minC' },
  dewPoint: { of: SPRAY, by: 'SHOP.limits.dewMarginC' },
  partTemp: { of: SPRAY, by: 'SHOP.limits.partMinC' },
  partHot: { of: SPRAY, by: 'ZONE.coolMin' },
  noPerson: { of: [...SPRAY, 'ClearZone'], by: 'PERSON.name' },
  tooManyCoats: { of: [], by: 'SHEET.coats.most' },
  filmOver: { of: [], by: 'SHEET.maxFilmUm' },
  openFade: { of: [], by: NO_FIGURE },
  forcedNoFigure: { of: [], by: 'SHEET.forcedDry.minutes' },
  cleanerOver: { of: [], by: NO_FIGURE },
  optionOutside: { of: [], by: 'SHEET.activators.fromC' },
  tooFewCoats: { of: ['ReachCover'], by: 'SHEET.coats.least' },
  nothingThere: { of: ['InspectCoat', 'DenibPanel', 'ReadFilm'], by: NO_FIGURE },
  noRoom: {
    of: ['FinishCoat', 'MeasureCup', 'PourCup', 'BreakOffCoat'],
    by: 'what was typed twice',
  },
  neverCures: { of: ['PassPanel'], by: NO_FIGURE },
  coatsMissing: { of: ['PassPanel', 'StartCure'], by: 'SHEET.coats.least' },
  noSuchCure: { of: ['StartCure'], by: 'SHEET.cure.air' },
  vehicleLimit: { of: ['StartCure'], by: 'asked once a job, beside the bake' },
  overheated: { of: [], by: 'SHEET.limits.maxPartC' },
  curing: {
    of: [...HAND, 'PolishPanel', 'ReachCover', 'StartCure', 'BreakOffCoat', 'SkipStep'],
    by: NO_FIGURE,
  },
  notCuring: { of: ['EndCure', 'ReadPart'], by: NO_FIGURE },
  cureNotOver: { of: ['PassPanel', 'PolishPanel', 'EndCure'], by: 'SHEET.cure.bake.minutes' },
  stepsLeft: { of: ['PassPanel'], by: 'the route, of the job' },
  routeInUse: { of: ['SetRoute'], by: NO_FIGURE },
  panelsOpen: { of: ['CloseJob'], by: NO_FIGURE },
  deviationsOpen: { of: ['CloseJob'], by: NO_FIGURE },
  jobState: { of: ['PauseJob', 'ReopenJob', 'ResumeJob', 'CloseJob'], by: NO_FIGURE },
  bellNotDue: { of: BELL, by: NO_FIGURE },
  snoozeNotAllowed: { of: ['SnoozeBell'], by: 'how long an alarm may sleep: fixed' },
  entryInUse: { of: ['VoidEntry', 'RemovePanel'], by: NO_FIGURE },
}

const SCREENS = ['wall', 'scan', 'bench', 'jobs', 'setup'] as const satisfies ScreenName[]
const sent = new Map(SCREENS.map((screen) => [screen, sentBy(screen)]))
const placesOf = (code: RefusalCode): readonly ScreenName[] =>
  SCREENS.filter((screen) => ROWS[code].of.some((type) => sent.get(screen)?.has(type)))

/** Each kind of work has its screens, and what may stop it is said on all of them. */
const stops = (type: CommandType) => CODES.filter((code) => ROWS[code].of.includes(type))

describe('where a rule shows', () => {
  test('what refuses on a random day is in the table, each with its command', () => {
    const seen = new Set<string>()
    const all = fc.oneof(intents, evenIntents)
    fc.assert(
      fc.property(all, (day) => {
        for (const { command, answer } of dayOf(day).sent) {
          // A void with a replacement is judged as what it replaces.
          const isReplaced = command.type === 'VoidEntry' && command.data.replace !== undefined
          if (!('refusal' in answer) || isReplaced) continue
          for (const code of [answer.refusal.code, ...answer.refusal.also]) {
            const { of } = ROWS[code as RefusalCode]
            expect(of, `${code} of ${command.type}`).toContain(command.type)
            seen.add(code)
          }
        }
      }),
      tries(40),
    )
    expect(seen.size).toBeGreaterThan(25)
  })

  test.each(stops('StartCoat'))(
    '%s, against a START: on Wall, Scan and the page of a panel',
    (code) => {
      expect(placesOf(code)).toEqual(expect.arrayContaining(['wall', 'scan', 'jobs']))
    },
  )

  test.each(stops('LoadGun'))(
    '%s, against a cup in a gun: on the Bench and with a scan as well',
    (code) => {
      expect(placesOf(code)).toEqual(expect.arrayContaining(['bench', 'scan']))
    },
  )

  test.each(stops('DoPrepStep'))(
    '%s, against work by hand: on Wall, Scan and the page of a panel',
    (code) => {
      expect(placesOf(code)).toEqual(expect.arrayContaining(['wall', 'scan', 'jobs']))
    },
  )

  test.each(stops('StartCure'))(
    '%s, against heat: on Wall, Scan and the page of a panel',
    (code) => {
      expect(placesOf(code)).toEqual(expect.arrayContaining(['wall', 'scan', 'jobs']))
    },
  )

  test('no rule that can stop something is without a screen; a mark stands in history and Trace', () => {
    const ofBells = CODES.filter((code) =>
      ROWS[code].of.every((type) => BELL.includes(type as never)),
    )
    for (const code of CODES) {
      if (WAYS[code].by === 'mark') {
        expect([code, ROWS[code].of]).toEqual([code, []])
        for (const words of [en, es]) expect(historyIn(words).codes[code]).toBeTruthy()
      } else if (!ofBells.includes(code))
        expect([code, placesOf(code).length > 0]).toEqual([code, true])
    }
    // A bell answers on its own card, on every screen.
    expect(ofBells.filter((code) => ROWS[code].of.length > 0)).toEqual([
      'bellNotDue',
      'snoozeNotAllowed',
    ])
  })

  test('whatever sends a command shows its answer', () => {
    const mute = senders().filter(([, source]) => !source.includes('<Answer'))
    expect(mute.map(([file]) => file)).toEqual([])
    expect(senders().length).toBeGreaterThan(20)
  })
})

test.each(CODES)('%s goes by a figure that Setup asks for, or by none', (code) => {
  const { by } = ROWS[code]
  const [form = '', ...path] = by.split('.')
  if (form !== form.toUpperCase()) expect(by.length).toBeGreaterThan(8)
  else expect(askedIn(formNamed(form)).join(' ')).toContain(path.join('.'))
})
