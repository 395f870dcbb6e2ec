import { describe, expect, test } from 'vitest'
import { REFUSALS, type RefusalCode } from '../../../machines/refusals.ts'
import { outsideOf, refusalOf } from '../../support/given.ts'
import { REASONS } from '../../support/reasons.ts'

/** What is only marked in the entry: the coat is already on the panel. */
const NOTED: readonly RefusalCode[] = [
  'panelUnknown',
  'jobUnknown',
  'optionOutside',
  'tooManyCoats',
  'filmOver',
  'openFade',
  'forcedNoFigure',
  'cleanerOver',
  'overheated',
]
const refusing = Object.entries(REASONS).filter(([code]) => !NOTED.includes(code as RefusalCode))

describe('every reason in the table', () => {
  test('has an example here', () => {
    expect(Object.keys(REASONS)).toEqual(Object.keys(REFUSALS))
  })

  test.each(refusing)('%s is met, with a sentence that leaves nothing open', (code, ask) => {
    const refusal = refusalOf(ask())
    expect(refusal.code).toBe(code)
    expect(refusal.message).toMatch(/^[A-Z].*[.]$/)
    expect(refusal.message).not.toMatch(/undefined|null|NaN|\[object/)
  })

  test.each(NOTED)('%s is only noted', (code) => {
    const answer = REASONS[code]()
    expect('drafts' in answer && outsideOf(answer.drafts[0])).toEqual([code])
  })
})

describe('which can be overridden', () => {
  // What chemistry forbids can be overridden with a reason; what makes no sense cannot.
  const CHEMISTRY = [
    'windowShut',
    'flashNotOver',
    'lookFirst',
    'cleanerWet',
    'notReady',
    'sandEarly',
    'wantsBase',
    'wetInZone',
    'wrongColour',
    'colourOff',
    'inductionNotOver',
    'potLifeOver',
    'keepOver',
    'ratioOff',
    'noActivator',
    'gunHolds',
    'airOutside',
    'dewPoint',
    'partTemp',
    'partHot',
    'tooFewCoats',
    'coatsMissing',
    'vehicleLimit',
    'cureNotOver',
    'stepsLeft',
    'panelsOpen',
    'deviationsOpen',
  ]
  test.each(refusing)('%s says so in its refusal', (code, ask) => {
    expect(refusalOf(ask()).overridable).toBe(CHEMISTRY.includes(code))
  })

  test('the table agrees', () => {
    const can = Object.entries(REFUSALS).filter(([, rule]) => rule.overridableBy !== null)
    expect(can.map(([code]) => code)).toEqual(CHEMISTRY)
  })
})
