import { expect, test } from 'vitest'
import { type Fact, factsOf, sheetNames } from '../../kiosk/jobs/entryFacts.ts'
import { namesIn } from '../../kiosk/jobs/names.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { byOccurrence } from '../../machines/envelope.ts'
import type { Shop } from '../support/shop.ts'
import { CUP, DOOR, JOB, SAY, vanShop } from './historyShop.ts'

/** What one entry of a history knows, by the names that a person gave. */

function facts(shop: Shop, type: string, nth = 0, words = SAY.words): Record<string, string> {
  const all = shop.entries.toSorted(byOccurrence)
  const entry = all.filter((one) => one.type === type)[nth]
  if (!entry) throw new Error(`no ${type}`)
  const voided = new Set(
    all.filter((e) => e.type === 'EntryVoided').map((e) => String(e.data.entry)),
  )
  const names = { ...namesIn(shop.state), sheet: sheetNames(shop.state) }
  const found: Fact[] = factsOf(entry, all, voided, { ...SAY, words, names })
  return Object.fromEntries(found.map(({ word, text }) => [word, text]))
}

function sprayed(): Shop {
  const shop = vanShop()
  shop.do('SaveGun', { gun: 'gun-2', name: 'Clear gun' })
  shop.do('ReadClimate', { zone: 'booth', airC: 21, rh: 0.5, surfaceC: 20.5 })
  shop.do('DoPrepStep', { panel: DOOR, step: 0 })
  const gunSet = { inletKpa: 200, turns: 3, distanceCm: 15 }
  shop.at(5).do('StartCoat', { panels: [DOOR], cup: CUP, gun: 'gun-2', gunSet })
  shop.at(8).do('FinishCoat', { panels: [DOOR] })
  shop.at(21).do('StartCoat', { panels: [DOOR], cup: CUP })
  return shop
}

test('a coat knows its number, its gun, the air and what the clocks were judged by', () => {
  const shop = sprayed()
  expect(facts(shop, 'CoatStarted')).toMatchObject({
    Coat: '1',
    Gun: 'Clear gun',
    'Gun set to': expect.stringMatching(/3.* turns, 15 cm$/),
    Air: '21.0 °C 50 %',
    'Cup ends at': expect.stringContaining('left'),
  })
  expect(facts(shop, 'CoatStarted', 1)).toMatchObject({
    Coat: '2',
    'Flash over at': expect.stringMatching(/, 3 min past$/),
  })
})

test('a coat that is voided is not counted among those before', () => {
  const shop = sprayed()
  const first = shop.entries.find(({ type }) => type === 'CoatStarted')
  expect(facts(shop, 'CoatStarted', 1).Coat).toBe('2')
  const all = shop.entries
  const second = all.filter(({ type }) => type === 'CoatStarted')[1]
  if (!first || !second) throw new Error('no coats')
  const names = { ...namesIn(shop.state), sheet: sheetNames(shop.state) }
  const said = factsOf(second, all, new Set([first.id]), { ...SAY, names })
  expect(said).toContainEqual({ word: 'Coat', text: '1' })
})

test('a cup knows its sheet with its version, its ratio, what was poured and its lots', () => {
  const shop = sprayed()
  const mixed = { cup: 'QQQQ2222', sheet: 'clear-2k', totalMl: 300, job: JOB, pouredG: [200, 105] }
  shop
    .at(22)
    .do('MixCup', { ...mixed, activator: 'standard', lots: [{ name: 'clear', lot: '41-07' }] })
  expect(facts(shop, 'CupMixed', 1)).toMatchObject({
    Sheet: expect.stringMatching(/, version 1$/),
    Ratio: '2:1',
    Poured: expect.stringMatching(/\d/),
    Activator: 'standard',
    Lots: 'clear: 41-07',
    'Pot life by the sheet': expect.stringContaining('min / '),
  })
})

test('in Spanish, every fact has its word', () => {
  const said = facts(sprayed(), 'CoatStarted', 0, es)
  expect(said).toMatchObject({ Mano: '1', Pistola: 'Clear gun' })
})

test('a color card knows how far each angle is from the panel, a neighbor what was decided and why', () => {
  const shop = sprayed()
  const lab = (l: number) => [l, 0, 0]
  const angles = [
    { deg: 15, panel: lab(50), card: lab(52) },
    { deg: 110, panel: lab(30), card: lab(30) },
  ]
  shop.do('MeasureColourCard', { job: JOB, colour: 'body', card: 'B', tint: 'T2', angles })
  // CIEDE2000 of two units of lightness at L* 51: 2 / (1 + 0.015 x 1 / sqrt(21)) = 1.99.
  expect(facts(shop, 'ColourCardMeasured')).toMatchObject({
    ...{ Color: 'body', Card: 'B', Tint: 'T2' },
    'Card from panel': '15°: ΔE 2.0, 110°: ΔE 0.0',
  })
  const left = { job: JOB, body: 'van', on: 'roof', beside: ['left-front-door'], blend: false }
  shop.do('DecideBlend', { ...left, reason: 'the card matches' })
  expect(facts(shop, 'BlendDecided')).toMatchObject({
    Decided: 'left out',
    Why: 'the card matches',
  })
  // Touched on an English kiosk and read on a Spanish one; own words stay as they are.
  expect(facts(shop, 'BlendDecided', 0, es)).toMatchObject({ Motivo: 'la muestra iguala' })
  shop.do('DecideBlend', { ...left, reason: 'owner wants it so' })
  expect(facts(shop, 'BlendDecided', 1, es)).toMatchObject({ Motivo: 'owner wants it so' })
})
