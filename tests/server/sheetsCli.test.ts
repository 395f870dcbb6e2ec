import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { folderForTests } from '../support/folderForTests.ts'
import { command } from '../support/serverCommands.ts'
import { post, ran, serverProcess } from '../support/serverProcess.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

const place = folderForTests()
const fileOf = (name: string, text: string): string => {
  const file = join(place.folder, name)
  writeFileSync(file, text)
  return file
}

describe('flashbell sheets', () => {
  test('prints what the server hands out, also while that writes; and what it prints is right', async () => {
    const data = join(place.folder, 'shop')
    const server = await serverProcess(data)
    for (const sheet of [CLEAR, BASE])
      await post(`${server.url}/api/commands`, command(sheet.sheet, 'SaveSheet', { sheet }))
    const served = await (await fetch(`${server.url}/api/sheets`)).json()
    const { code, out, err } = await ran(['sheets', '--data', data])
    await server.stop('SIGTERM')
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(JSON.parse(out)).toEqual(served)
    expect(await ran(['sheets', 'check', fileOf('out.json', out)])).toEqual({
      code: 0,
      out: '2 sheets, and every field is right.\n',
      err: '',
    })
  })

  test('check says each wrong field in a sentence, and ends with 2', async () => {
    const wrong = [
      { ...CLEAR, by: 'eye', floorMin: 1_441 },
      { ...BASE, colour: 'red' },
    ]
    const file = { format: 'flashbell-sheets', version: 1, sheets: wrong }
    const { code, out, err } = await ran([
      'sheets',
      'check',
      fileOf('in.json', JSON.stringify(file)),
    ])
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err.trim().split('\n')).toEqual([
      `sheets.0.by: "eye" won't work. Use one of volume, mass.`,
      "sheets.0.floorMin: 1441 won't work. Use a number from 0 to 1440 min.",
      expect.stringMatching(
        /^sheets\.1\.colour: "red" won't work\. Use only these fields: sheet, /,
      ),
    ])
  })

  test.each([
    [['sheets', 'check', '/nowhere/at-all.json'], 'cannot be read'],
    [['sheets', 'check'], 'wants the name of a file'],
    [['sheets', 'print'], 'sheets print is nothing. Use sheets or sheets check FILE.'],
    [['sheets', 'check', 'a.json', 'b.json'], 'b.json is one word too many.'],
  ])('%j is a wrong use: a sentence, exit 2', async (args, said) => {
    const { code, out, err } = await ran(args)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain(said)
  })

  test('what is no JSON, or no log, is said', async () => {
    const notes = await ran(['sheets', 'check', fileOf('notes.txt', 'clear 2:1')])
    expect([notes.code, notes.err]).toEqual([2, expect.stringContaining('holds no JSON')])
    const none = await ran(['sheets', '--data', join(place.folder, 'empty')])
    expect([none.code, none.err]).toEqual([1, expect.stringContaining('There is no log in')])
  })
})
