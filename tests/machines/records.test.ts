import { parse } from 'csv-parse/sync'
import { describe, expect, test } from 'vitest'
import { bellFigures } from '../../machines/bell/figures.ts'
import type { Draft } from '../../machines/envelope.ts'
import { categoryOf, portionsOf, type SheetThen, vocOf } from '../../machines/records/material.ts'
import { cupRecord, isMixed, recordsOf } from '../../machines/records/records.ts'
import { type RecordWords, recordSections, recordsCsv } from '../../machines/records/table.ts'
import { dueOf, filtersDue, trainingsDue, yearsAfter } from '../../machines/records/upkeep.ts'
import { vocStages } from '../../machines/trade/voc.ts'
import { jurisdictions } from '../../machines/trade/vocLimits.ts'
import { en, es } from '../../machines/words/records.ts'
import eu from '../reference/voc-limits-eu.json' with { type: 'json' }
import us from '../reference/voc-limits-us.json' with { type: 'json' }
import { asSaved, BASE, CLEAR } from '../support/sheets.ts'

const [federal, europe] = jurisdictions as [(typeof jurisdictions)[0], (typeof jurisdictions)[0]]
const sheets: Readonly<Record<string, SheetThen>> = {
  [BASE.sheet]: asSaved(BASE),
  [CLEAR.sheet]: asSaved(CLEAR),
}
const DAY = 86_400_000
let count = 0

function entry(type: string, data: object, more: Partial<Draft> = {}): Draft {
  count += 1
  return {
    ...{ shop: 'SHAPSHAP', id: `r-${count}.0`, type, version: 1, at: count * 60_000 },
    ...{ enteredAt: 0, device: null, by: null, command: `r-${count}`, seq: count },
    ...{ data: data as Draft['data'], ...more },
  }
}
const mixed = (
  sheet: { readonly sheet: string; readonly name: string },
  cup: string,
  more: object = {},
  job?: string,
) =>
  entry(
    'CupMixed',
    {
      ...{ sheet: sheet.sheet, sheetVersion: 1 },
      ...{ name: sheet.name, totalMl: 600, by: 'volume', ...more },
    },
    { cup, ...(job ? { job } : {}) },
  )
const records = (entries: readonly Draft[], place = federal, voided: readonly string[] = []) =>
  recordsOf({
    ...{ entries, voided: new Set(voided), place, training: [], filters: [] },
    cups: entries
      .filter(isMixed)
      .filter(({ id }) => !voided.includes(id))
      .map((one) => cupRecord(one, (id) => sheets[id] ?? null, place)),
    bells: bellFigures([], { from: 0, to: DAY }),
    typed: [],
  })

describe('material', () => {
  test('a ratio by volume: litres and grams of each component', () => {
    // 2 : 1 of 600 mL: 400 mL at 1.00 g/mL and 200 mL at 1.05 g/mL.
    const portions = portionsOf({ totalMl: 600, by: 'volume' }, asSaved(CLEAR))
    expect(portions).toEqual([
      { name: 'clear', ml: 400, g: 400 },
      { name: 'activator', ml: 200, g: 210 },
    ])
  })

  test('what was weighed goes before the ratio', () => {
    const parts = [
      { name: 'clear', role: 'base', amount: 300, slack: 0 },
      { name: 'activator', role: 'activator', amount: 100, slack: 0 },
    ]
    expect(portionsOf({ totalMl: 400, by: 'volume', parts }, asSaved(CLEAR))[1]).toMatchObject({
      ml: 100,
      g: 105,
    })
  })

  test('a ratio by mass fills the same volume', () => {
    // 2 : 1 by mass, 1.00 and 0.5 g/mL: 2 g take 2 mL, 1 g takes 2 mL; 400 mL are 200 g and 100 g.
    const sheet = {
      components: [
        { name: 'a', role: 'base', parts: 2, densityGPerMl: 1 },
        { name: 'b', role: 'activator', parts: 1, densityGPerMl: 0.5 },
      ],
    }
    expect(portionsOf({ totalMl: 400, by: 'mass' }, sheet)).toEqual([
      { name: 'a', ml: 200, g: 200 },
      { name: 'b', ml: 200, g: 100 },
    ])
  })

  test('a density that nobody typed is said with the litres that it is missing for', () => {
    const bare = { ...CLEAR, components: CLEAR.components.map(({ densityGPerMl: _, ...c }) => c) }
    const cup = mixed(CLEAR, 'CUP22222')
    const { material, voc } = recordsOf({
      ...{ entries: [cup], voided: new Set<string>() },
      ...{ place: federal, training: [], filters: [] },
      cups: [cup].filter(isMixed).map((one) => cupRecord(one, () => asSaved(bare), federal)),
      bells: bellFigures([], { from: 0, to: DAY }),
      typed: [],
    })
    expect(material).toMatchObject([{ ml: 600, g: 0, mlWithoutG: 600, cups: 1 }])
    expect(voc.cups).toMatchObject([{ gPerL: null, isWithin: null, why: 'figuresMissing' }])
  })

  test('a cup that was voided was never mixed; its void is counted', () => {
    const cup = mixed(CLEAR, 'CUP22222')
    const gone = entry('EntryVoided', { entry: cup.id, type: 'CupMixed' })
    const { material, voids } = records([cup, gone], federal, [cup.id])
    expect(material).toEqual([])
    expect(voids).toEqual([{ code: 'CupMixed', count: 1 }])
  })
})

describe('VOC', () => {
  test('a cup as mixed has the VOC that its volatiles and its volume give', () => {
    // CLEAR 2:1: (400 x 1.00 x 0.5 + 200 x 1.05 x 0.4) g in 0.6 L = 284 / 0.6 = 473.33 g/L.
    const sheet = asSaved(CLEAR)
    const figure = vocOf(portionsOf({ totalMl: 600, by: 'volume' }, sheet), sheet, 'us')
    expect(figure?.regulatoryGPerL).toBeCloseTo(473.333, 2)
  })

  test('the limits are those that are published for the jurisdiction', () => {
    const limit = (category: string) => us.limits.find((one) => one.category === category)?.gPerL
    const own = (id: string) => federal.limits.find((one) => one.id === id)?.gPerL
    expect(own('topcoat')).toBe(limit('Single/two-stage topcoats'))
    expect(own('topcoat-stages')).toBe(limit('Topcoats of more than two stages'))
    expect(own('primer')).toBe(limit('Primers/primer surfacers'))
    expect(europe.limits.find(({ id }) => id === 'topcoat')?.gPerL).toBe(
      eu.limits.find(({ product }) => product === 'Topcoat')?.gPerL,
    )
  })

  test('in the United States a job is judged by the average of its stages, the clear twice', () => {
    // BASE 1:0.5: (0.98 x 0.7 + 0.5 x 0.87) / 1.5 = 0.747333 g/mL: 747.33 g/L. (747.33 + 2 x 473.33) / 3 = 564.67.
    const job = 'VANJAB22'
    const { voc } = records([mixed(BASE, 'BASE2222', {}, job), mixed(CLEAR, 'CCCC2222', {}, job)])
    expect(voc.stages).toMatchObject([{ job, mids: 0, limitGPerL: 600, isWithin: true }])
    expect(voc.stages[0]?.gPerL).toBeCloseTo(564.667, 2)
    expect(voc.cups.map(({ why }) => why)).toEqual(['inAverage', 'inAverage'])
  })

  test('a cup for several jobs is in the average of each, and its row names them', () => {
    const [one, other] = ['VANJAB22', 'CARRAD22']
    const all = records([
      mixed(BASE, 'BASE2222', { alsoFor: [other] }, one),
      mixed(CLEAR, 'CCCC2222', { alsoFor: [other] }, one),
    ])
    expect(all.voc.stages.map(({ job, isWithin }) => [job, isWithin])).toEqual([
      [one, true],
      [other, true],
    ])
    const rows = recordSections(all, { words: en, date: String }).flatMap((section) => section.rows)
    expect(rows.filter(({ note }) => note.includes(`for the jobs ${one}, ${other}`))).toHaveLength(
      2,
    )
  })

  test('the published worked averages come out (40 CFR 59.104(a)(2))', () => {
    for (const { voc_bc: base, voc_mc: mid = [], voc_cc: clear, multi } of us.examplesDerived)
      expect(vocStages.run({ base, mid, clear }).gPerL).toBeCloseTo(multi, 2)
  })

  test('without the clear there is no average, and that is said', () => {
    const { voc } = records([mixed(BASE, 'BASE2222', {}, 'VANJAB22')])
    expect(voc.stages).toMatchObject([{ gPerL: null, isWithin: null, why: 'stageMissing' }])
  })

  test('in the European Union each cup is judged by its own limit', () => {
    const { voc } = records([mixed(CLEAR, 'CCCC2222', {}, 'VANJAB22')], europe)
    expect(voc.stages).toEqual([])
    expect(voc.cups).toMatchObject([{ category: 'topcoat', limitGPerL: 420, isWithin: false }])
  })

  test('a category that the rule does not have is not judged; a sealer is a primer in Europe', () => {
    expect(categoryOf({ vocCategory: 'wax', stage: 'clear' }, federal)).toBeNull()
    expect(categoryOf({ vocCategory: 'Special finishes', stage: 'clear' }, federal)).toBe(
      'specialty',
    )
    expect(categoryOf({ stage: 'sealer' }, europe)).toBe('primer')
    expect(categoryOf({ stage: 'sealer' }, federal)).toBe('sealer')
  })
})

describe('training and filters', () => {
  const done = Date.UTC(2021, 10, 28, 12)

  test('training is due again after five years, and said 60 days before', () => {
    const dueMs = yearsAfter(done, 5, 'UTC')
    expect(new Date(dueMs).toISOString()).toBe('2026-11-28T00:00:00.000Z')
    expect(dueOf(dueMs, dueMs - 61 * DAY)).toBe('ok')
    expect(dueOf(dueMs, dueMs - 60 * DAY)).toBe('soon')
    expect(dueOf(dueMs, dueMs)).toBe('over')
  })

  test('the last training of each counts, and who has none is named', () => {
    const told = (person: string, doneMs: number) =>
      entry('TrainingRecorded', { person, name: person, kind: 'refresher', doneMs })
    const due = trainingsDue(
      [told('ann', done), told('ann', done + 365 * DAY), told('bob', done)],
      { ann: 'Ann', cy: 'Cy' },
      { now: Date.UTC(2026, 9, 1), timeZone: 'UTC' },
    )
    expect(due.map(({ name, due: is }) => [name, is])).toEqual([
      ['Cy', 'notRecorded'],
      ['bob', 'soon'],
      ['Ann', 'ok'],
    ])
  })

  test('a wrong entry that another stands in place of does not count', () => {
    const wrong = entry('FilterServiced', { what: 'changed', doneMs: 5 }, { zone: 'booth' })
    const right = entry(
      'FilterServiced',
      { what: 'changed', doneMs: 3, nextMs: 9, replaces: wrong.id },
      { zone: 'booth' },
    )
    expect(filtersDue([wrong, right], { booth: 'Big booth' }, 8)).toMatchObject([
      { name: 'Big booth', doneMs: 3, nextMs: 9, due: 'soon' },
    ])
  })
})

test('solvent, coats, overrides and what was not measured are counted, and what nobody typed', () => {
  const broken = { code: 'flashNotOver', limit: 1, value: 2 }
  const made = records([
    entry('GunCleaned', { solvent: 'thinner', solventMl: 200 }),
    entry('GunCleaned', {}),
    entry('SolventUsed', { solvent: 'thinner', ml: 300 }),
    entry('CoatFinished', { stage: 'clear', usedMl: 240 }),
    entry('CoatFinished', { stage: 'clear' }, { outside: [broken], notJudged: ['dewPoint'] }),
    entry(
      'CoatStarted',
      {},
      { override: { reason: 'x', codes: ['flashNotOver'], broken: [broken] } },
    ),
    entry('CupEmptied', { how: 'discarded', leftMl: 60 }),
    entry('CupEmptied', { how: 'discarded' }),
  ])
  expect(made.solvents).toEqual([{ solvent: 'thinner', ml: 500, times: 2 }])
  expect(made.cleanings).toEqual({ count: 2, notSaid: 1 })
  expect(made.coats).toEqual([{ code: 'clear', count: 2, usedMl: 240, notSaid: 1 }])
  expect([made.outside, made.overrides, made.notJudged]).toEqual([
    [{ code: 'flashNotOver', count: 1 }],
    [{ code: 'flashNotOver', count: 1 }],
    [{ code: 'dewPoint', count: 1 }],
  ])
  expect(made.leftMl).toEqual({ ml: 60, cups: 2, notSaid: 1 })
})

describe('as a table', () => {
  const same = (one: string) => one
  const wordsOf = (own: typeof en): RecordWords => ({ ...own, stage: same, code: same, type: same })
  const say = { words: wordsOf(en), date: () => '2026-11-28' }

  test('CSV is RFC 4180: CR LF, quotes doubled, and the same number of fields in each record', () => {
    const name = 'clear "2:1", gloss\nnew'
    const sections = recordSections(
      records([mixed({ ...CLEAR, name }, 'CUP22222', { name }, 'VANJAB22')]),
      say,
    )
    const csv = recordsCsv(sections, say)
    expect(csv.endsWith('\r\n')).toBe(true)
    // Read by a parser of RFC 4180 that is not ours.
    const rows = parse(csv, { record_delimiter: '\r\n' }) as string[][]
    expect(rows[0]).toEqual(['section', 'name', 'value', 'unit', 'note'])
    expect(new Set(rows.map(({ length }) => length))).toEqual(new Set([5]))
    expect(rows.some(([, cell]) => cell?.includes(name))).toBe(true)
  })

  test('a name that begins like a formula is not one in a spreadsheet', () => {
    const row = { name: '=1+1', value: '', unit: '', note: '', isFlagged: false }
    expect(recordsCsv([{ title: 'x', rows: [row] }], say)).toContain("x,'=1+1,")
  })

  test('an empty month says in each section that nothing is recorded', () => {
    const sections = recordSections(records([]), say)
    const first = sections.find(({ title }) => title === en.sections.material)
    expect(first?.rows).toMatchObject([{ name: 'nothing recorded' }])
  })

  test('in neither language do the records call themselves compliant', () => {
    for (const own of [en, es]) {
      const text = JSON.stringify(recordSections(records([]), { ...say, words: wordsOf(own) }))
      expect(`${text}${JSON.stringify(own)}`).not.toMatch(/\bcompli(ant|ance|es)\b|\bcumple\b/i)
      expect(own.notCompliance.length).toBeGreaterThan(40)
    }
  })
})
