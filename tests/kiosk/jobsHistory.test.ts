import { describe, expect, test } from 'vitest'
import { brokenText, entriesHere, type Line, linesOf } from '../../kiosk/jobs/historyLines.ts'
import { reasonText } from '../../kiosk/ui/reasonText.ts'
import { VOID_REASONS } from '../../kiosk/ui/voidReasons.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { historyIn } from '../../kiosk/words/historyIn.ts'
import { INSPECTIONS } from '../../machines/panel/events.ts'
import { REFUSALS } from '../../machines/refusals.ts'
import { minute, type Shop } from '../support/shop.ts'
import { CUP, DOOR, JOB, SAY, vanShop } from './historyShop.ts'

const lines = (shop: Shop): Line[] =>
  linesOf(
    shop.entries.filter((entry) => entry.job === JOB),
    SAY,
  )
const last = (shop: Shop, type: string) => {
  const found = lines(shop).findLast((line) => line.type === type)
  if (!found) throw new Error(`no ${type}`)
  return found
}

describe('a line of the history', () => {
  test('says what happened, to which panel, by the names of then', () => {
    const shop = vanShop()
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    shop.do('StartCoat', { panels: [DOOR], cup: CUP })
    expect(lines(shop).map(({ what, panel }) => [what, panel])).toEqual([
      ['Job opened · Delivery van', null],
      ['Panel added', 'Sliding door'],
      ['Cup mixed · clear · cup K7QD · 500 mL', null],
      ['Done by hand · 1 prep', 'Sliding door'],
      ['Coat started · clear · cup K7QD', 'Sliding door'],
    ])
  })

  test('keeps a voided entry, with when and why it was voided; neither it nor its void is voided again', () => {
    const shop = vanShop()
    const [done] = shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    shop.at(3).do('VoidEntry', { entry: done?.id, reason: 'WRONG_PART' })
    expect(last(shop, 'PrepStepDone')).toMatchObject({
      voided: { at: minute(3), reason: 'wrong part' },
      mayVoid: false,
    })
    expect(last(shop, 'EntryVoided')).toMatchObject({
      what: 'Void: Done by hand · 1 prep',
      reason: 'wrong part',
      mayVoid: false,
    })
  })

  test('an entry that replaces a voided one says so', () => {
    const shop = vanShop()
    const [slip] = shop.do('AddNote', { job: JOB, text: 'Left' })
    shop.at(1).do('VoidEntry', {
      entry: slip?.id,
      reason: 'MISTAP',
      replace: { type: 'AddNote', data: { job: JOB, text: 'Right' } },
    })
    const kept = lines(shop).find(({ what }) => what === 'Note · Right')
    expect(kept).toMatchObject({ corrects: slip?.id, voided: null, mayVoid: true })
  })

  test('of an override says the reason, and each limit with what was found', () => {
    const shop = vanShop()
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    shop.do('StartCoat', { panels: [DOOR], cup: CUP })
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    shop.at(5).do('StartCoat', { panels: [DOOR], cup: CUP, override: { reason: 'CLIMATE' } })
    // The sheet's flash is 10 min from 08:02.
    expect(last(shop, 'CoatStarted').override).toEqual({
      reason: 'climate',
      broken: ['flash not over (limit 08:12, was 08:05)'],
    })
  })

  test('of a late fact says both times, what it broke, and what could not be judged', () => {
    const shop = vanShop()
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    shop.do('StartCoat', { panels: [DOOR], cup: CUP })
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    shop.at(9).do('FinishCoat', { panels: [DOOR], cup: CUP }, { at: minute(7) })
    const line = last(shop, 'CoatFinished')
    expect(line).toMatchObject({ at: minute(7), enteredAt: minute(9) })
    expect(line.what).toContain('start estimated')
    expect(line.outside.join()).toContain('flash not over (limit 08:12')
    expect(line.notJudged).toEqual(['air', 'surface above dew point'])
  })

  test('of what waited on a kiosk says when it reached the log', () => {
    const shop = vanShop()
    shop
      .at(30)
      .do('AddNote', { job: JOB, text: 'Said offline' }, { at: minute(4), enteredAt: minute(4) })
    expect(last(shop, 'NoteAdded')).toMatchObject({
      at: minute(4),
      enteredAt: null,
      recordedAt: minute(30),
    })
  })

  test('of a cure that was ended early, a part that was not measured, a panel sent back', () => {
    const shop = vanShop()
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    for (const at of [0, 15]) {
      shop.at(at).do('StartCoat', { panels: [DOOR], cup: CUP })
      shop.at(at + 2).do('FinishCoat', { panels: [DOOR] })
    }
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
    shop.do('ReadPart', { panel: DOOR })
    shop.at(40).do('EndCure', { panels: [DOOR] })
    shop.do('SendBackPanel', { panel: DOOR, toStep: 1, done: 1, reason: 'EQUIPMENT' })
    expect(last(shop, 'CureStarted').what).toContain('bake')
    expect(last(shop, 'PartRead').what).toBe('Part temperature · 60.0 °C · estimated')
    expect(last(shop, 'CureEnded').what).toBe('Cure ended · too early')
    expect(last(shop, 'PanelSentBack')).toMatchObject({
      what: 'Sent back to · 2 clear · 1 coat still counts',
      reason: 'equipment',
    })
  })

  test('is in the order of occurrence, whatever order the log has', () => {
    const shop = vanShop()
    shop.at(9).do('AddNote', { job: JOB, text: 'Second' })
    shop.do('AddNote', { job: JOB, text: 'First' }, { at: minute(5) })
    expect(
      lines(shop)
        .map(({ what }) => what)
        .slice(-2),
    ).toEqual(['Note · First', 'Note · Second'])
  })
})

test('limits of air and dew point are said in the shop’s units', () => {
  const air = {
    code: 'airOutside',
    limit: { minC: 15, maxC: 35, maxRh: 0.85 },
    value: { airC: 12, rh: 0.9 },
  }
  expect(brokenText(air, 0, SAY)).toBe(
    'air (limit from 15.0 °C up to 35.0 °C up to 85 %, was 12.0 °C 90 %)',
  )
  const inF = { words: en, format: formatOf({ units: { temperature: 'F' } }) }
  // 12 °C is 53.6 °F; a difference of 3 °C is 5.4 °F: shown in whole degrees.
  expect(brokenText(air, 0, inF)).toContain('was 54 °F 90 %')
  expect(brokenText({ code: 'dewPoint', limit: 3, value: 1.5 }, 0, inF)).toBe(
    'surface above dew point (limit 5 °F, was 3 °F)',
  )
})

test('a coded reason is said in words, with what was typed after it; free text stays', () => {
  expect(reasonText('MISTAP', en)).toBe('pressed by mistake')
  expect(reasonText('OTHER: hose: burst', en)).toBe('other: hose: burst')
  expect(reasonText('CLIMATE', es)).toBe('clima')
  expect(reasonText('the boss said so', en)).toBe('the boss said so')
})

test('every limit, result and reason has a word in both languages', () => {
  // A command that makes no sense is never recorded, so no entry can carry its code.
  const nonsense = Object.entries(REFUSALS).filter(([, rule]) => rule.isNonsense)
  const never = [...nonsense.map(([code]) => code), 'nothingThere', 'noRoom', 'notCuring']
  const codes = Object.keys(REFUSALS).filter((code) => !never.includes(code))
  for (const history of [en, es].map(historyIn)) {
    for (const code of codes) expect(history.codes[code], code).toBeTruthy()
    for (const result of INSPECTIONS) expect(history.results[result], result).toBeTruthy()
    for (const reason of VOID_REASONS) expect(history.voidReasons[reason], reason).toBeTruthy()
  }
})

test('a kiosk without its server knows the entries of an open job, each once', () => {
  const shop = vanShop()
  shop.do('DoPrepStep', { panel: DOOR, step: 0 })
  shop.do('StartCoat', { panels: [DOOR], cup: CUP })
  shop.do('PauseJob', { job: JOB })
  const here = entriesHere(shop.state, JOB).map(({ id }) => id)
  const all = shop.entries.filter((entry) => entry.job === JOB).map(({ id }) => id)
  expect(here.toSorted()).toEqual(all.toSorted())
})

test('a label that did not print is shown as written by hand', () => {
  const shop = vanShop()
  shop.do('PrintLabel', { cup: CUP, byHand: true })
  const entries = shop.entries.filter((entry) => entry.type === 'CupLabelPrinted')
  expect(linesOf(entries, SAY).map(({ what }) => what)).toEqual([
    `Label not printed: written by hand · cup ${CUP.slice(0, 4)}`,
  ])
})
