import { expect, test } from 'vitest'
import { saidOnce } from '../../kiosk/setup/shopFigures.ts'
import { shortLength } from '../../kiosk/units/format.ts'
import { en } from '../../kiosk/words/ready.ts'
import { contextOf } from '../../machines/state.ts'
import { shopWith } from '../support/given.ts'
import { BASE } from '../support/sheets.ts'

/** What the shop said once of a sheet, on the sheet's own page. */

const said = (...words: readonly object[]) => {
  const shop = shopWith([BASE])
  for (const one of words) shop.do('SetShopFigure', { sheet: BASE.sheet, ...one })
  return saidOnce(contextOf(shop.state, 'sheet', BASE.sheet)?.figures ?? [], {
    words: en,
    minutes: (min) => shortLength(min * 60_000),
    temperature: (tempC) => `${tempC} °C`,
    layer: (stage) => stage,
  }).map(({ word, text }) => `${word}: ${text}`)
}

test('each is named with its last word', () => {
  const points = [
    { atC: 15, minutes: 60 },
    { atC: 25, minutes: 30 },
  ]
  expect(
    said(
      { ready: { for: 'sand', after: 60 } },
      { ready: { for: 'polish', after: 'none' } },
      { dropOver: 'wet' },
      { prep: { over: 'primer', gritMin: 500 } },
      { ready: { for: 'sand', after: 120 } },
      { ready: { for: 'tape', after: points } },
      { dropOver: 'halfMatte' },
      { keep: { reduced: false, days: 90 } },
      { keep: { reduced: true, days: 'unlimited' } },
      { keep: { reduced: false, days: 30 } },
    ),
  ).toEqual([
    'Ready to sand: 2 h / 20 °C',
    'Ready to tape: 60 min / 15 °C, 30 min / 25 °C',
    'Ready to polish: no wait',
    'Keeps once mixed: 30 days',
    'Keeps with reducer in it: no limit',
    'Drop coat: over half-matte',
    'Abrade under it: primer: P500 or finer',
  ])
})

test('a shop that said nothing has none', () => {
  expect(said()).toEqual([])
})
