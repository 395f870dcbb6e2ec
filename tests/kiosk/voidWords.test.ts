import { expect, test } from 'vitest'
import { refusalText } from '../../kiosk/commands/refusalText.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { refusalOf } from '../../machines/refusals.ts'

const NOW = Date.UTC(2026, 0, 5, 12)
const english = { words: en, format: formatOf({}), state: null, now: NOW }
const spanish = { words: es, format: formatOf({ language: 'es' }), state: null, now: NOW }

test('the refusal of an undo says in each case what it needs, in both languages', () => {
  const rested = { why: 'rested', entry: 'c9.0', kind: 'cup', id: 'K7QDM2XV' } as const
  const of = { panel: 'SDEDR222', name: 'Sliding door', cup: 'K7QDM2XV', stage: 'base' }
  const needing = { type: 'CoatStarted', at: NOW, ...of }
  const cases = [
    { why: 'void' },
    { why: 'voided' },
    { why: 'letGo' },
    { why: 'used', kind: 'sheet', id: 'clear' },
    { why: 'used', kind: 'job', id: 'VANREAR2', name: 'Delivery van' },
    { ...rested, needing },
    { ...rested, needing: { type: 'CupPoured', at: NOW, cup: 'K7QDM2XV' } },
  ] as const
  const said = (seen: typeof english) =>
    cases.map((limit) =>
      refusalText(refusalOf([{ code: 'entryInUse', value: 'c1.0', limit }]), seen),
    )
  const all = [...said(english), ...said(spanish)]
  expect(new Set(all).size).toBe(all.length)
  for (const text of all) expect(text).toMatch(/^\S.+\.$/)
  const when = (seen: typeof english) => `${seen.format.date(NOW, NOW)} ${seen.format.time(NOW)}`
  expect(said(english)[5]).toBe(
    `Something needs this: ${when(english)} Coat started · base, Sliding door. Undo that first.`,
  )
  expect(said(spanish)[5]).toBe(
    `Algo necesita esto: ${when(spanish)} Mano empezada · base, Sliding door. Deshaga eso primero.`,
  )
  expect(said(english)[4]).toBe('This cannot be undone: the job Delivery van has panels or cups.')
  expect(said(english)[2]).toBe(
    'After 12 hours this cannot be undone. If the zone may not be clear, keep the mask on.',
  )
})
