import { describe, expect, test } from 'vitest'
import { csvTemplate, sheetsInCsv, textOf } from '../../kiosk/setup/sheetCsv.ts'

const HEADS =
  'name;stage;medium;ratio;by;atC;potLifeMin;flashBetweenMin;flashBeforeNextMin;recoatWithinMin;coatsPlanned'
const ROW = '2K clear;clear;solvent;2:1+10%;volume;20;60;7,5;15;480;2'
const bytes = (text: string) => new TextEncoder().encode(text).buffer as ArrayBuffer

const read = async (text: string, known = {}) => {
  const table = await sheetsInCsv(text, known)
  if (!table.ok) throw new Error(JSON.stringify(table.wrong))
  return table.sheets
}
const wrong = async (text: string) => {
  const table = await sheetsInCsv(text, {})
  return table.ok ? [] : table.wrong
}

describe('sheets as a table', () => {
  test('the template is itself a table of one sample', async () => {
    const [sheet, ...others] = await read(textOf(bytes(csvTemplate())))
    expect(others).toEqual([])
    expect(sheet).toMatchObject({
      sheet: 'example-2k-clear',
      sample: true,
      components: [{ parts: 2 }, { parts: 1 }, { parts: 0.3 }],
      cure: { bake: [{ tempC: 60, flashBefore: [{ atC: 20, minutes: 10 }] }] },
      hazards: { isocyanate: true, pictograms: ['flame', 'health'] },
    })
  })

  test.each([
    ['semicolons and decimal commas', `${HEADS}\n${ROW}\n`],
    ['a byte-order mark and Windows line ends', `\uFEFF${HEADS}\r\n${ROW}\r\n`],
    ['tabs', `${HEADS}\n${ROW}\n`.replaceAll(';', '\t')],
    ['commas and decimal points', `${HEADS}\n${ROW}\n`.replace('7,5', '7.5').replaceAll(';', ',')],
    ['quotes around everything', `${HEADS}\n${ROW.replace(/[^;]+/g, '"$&"')}\n`],
    [
      'heads in another case, with spaces',
      `${HEADS.replace('potLifeMin', 'Pot Life Min')}\n${ROW}`,
    ],
    ['empty lines', `${HEADS}\n\n;;;;;;;;;;\n${ROW}\n\n`],
  ])('%s', async (_, text) => {
    expect(await read(text)).toMatchObject([
      {
        name: '2K clear',
        flashBetween: [{ atC: 20, minutes: 7.5 }],
        potLife: [{ atC: 20, minutes: 60 }],
        coats: { least: 2, planned: 2, most: 2 },
      },
    ])
  })

  test('a file of an older spreadsheet is read by its own letters', () => {
    // "Diluyente rápido" in Windows-1252: á is one byte, which no UTF-8 begins.
    const old = Uint8Array.from([...'r', 'á', ...'pido'].map((letter) => letter.charCodeAt(0)))
    expect(textOf(old.buffer as ArrayBuffer)).toBe('rápido')
  })

  test('words stand for a pot life that is none and for a window without an end', async () => {
    const row = ROW.replace(';60;', ';none;').replace(';480;', ';mustSand;')
    expect(await read(`${HEADS}\n${row}`)).toMatchObject([
      { potLife: null, recoatWithin: 'mustSand' },
    ])
  })

  test('a name that the shop has is a new version of that sheet; two new ones get ids of their own', async () => {
    const rows = `${HEADS}\n${ROW}\n${ROW.replace('2K', '2K-')}`
    expect((await read(rows)).map(({ sheet }) => sheet)).toEqual(['2k-clear', '2k-clear-2'])
    expect((await read(`${HEADS}\n${ROW}`, { '2K clear': 'my-clear' }))[0]?.sheet).toBe('my-clear')
  })

  test('a bake without its flash before heat has none that is known: empty is not zero, and none is a word', async () => {
    const heads = `${HEADS};bakeC;bakeMin;bakeOf;flashBeforeHeatMin`
    const flashOf = async (cell: string) =>
      (await read(`${heads}\n${ROW};60;30;part;${cell}`))[0]?.cure.bake?.[0]
    expect(await flashOf('')).toEqual({ tempC: 60, minutes: 30, basis: 'part' })
    expect(await flashOf('none')).toMatchObject({ flashBefore: 'none' })
    const found = await wrong(`${heads}\n${ROW};60;30;part;soon`)
    expect(found).toMatchObject([{ kind: 'field', row: 2, column: 'flashBeforeHeatMin' }])
  })

  test('every wrong cell is named by its row and column, and none of the table is taken', async () => {
    const found = await wrong(
      `${HEADS}\n${ROW}\n${ROW.replace('clear;solvent', 'varnish;solvent').replace(';60;', ';an hour;')}`,
    )
    expect(found).toMatchObject([
      { kind: 'field', row: 3, column: 'stage', error: { params: { given: '"varnish"' } } },
      { kind: 'field', row: 3, column: 'potLifeMin', error: { params: { given: '"an hour"' } } },
    ])
  })

  test('a column that is not known, one that is there twice, a table without a row and open quotes are told', async () => {
    expect(await wrong(`${HEADS};price\n${ROW};9`)).toMatchObject([
      { kind: 'column', given: 'price' },
    ])
    expect(await wrong(`${HEADS};name\n${ROW};x`)).toMatchObject([
      { kind: 'twice', column: 'name' },
    ])
    expect(await wrong(`${HEADS}\n`)).toMatchObject([{ kind: 'empty' }])
    expect(await wrong(`${HEADS}\n"${ROW}`)).toEqual([{ kind: 'broken' }])
  })
})
