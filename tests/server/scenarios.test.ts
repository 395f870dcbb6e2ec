import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { type CommandLine, rehearse } from '../../server/rehearse.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'

/**
 * Days of a painter, each a file: what is pressed at which minute, what is expected of it, and why.
 * Expected is "done", the code of a refusal, or "override:" and what was overridden.
 */

const FOLDER = fileURLToPath(new URL('../scenarios/coats/', import.meta.url))
const SHEETS = { BASE, CLEAR, SEALER } as const

type SheetName = keyof typeof SHEETS
type Scenario = {
  readonly title: string
  /** Sheets of tests/support, or changed from one of these. */
  readonly sheets: readonly (SheetName | { readonly from: SheetName })[]
  /** Minute, command, data, what is expected, why; and what else `rehearse` is told, such as when it happened. */
  readonly lines: readonly (readonly [number, string, object, string, string, object?])[]
}

const scenarios = readdirSync(FOLDER).map((file): [string, Scenario] => {
  const scenario = JSON.parse(readFileSync(`${FOLDER}${file}`, 'utf8')) as Scenario
  return [scenario.title, scenario]
})

function sheetOf(named: Scenario['sheets'][number]): object {
  if (typeof named === 'string') return SHEETS[named]
  const { from, ...changed } = named
  return { ...SHEETS[from], ...changed }
}

function answerOf({ ok, refusal, error, override }: CommandLine): string {
  if (error) return `error: ${error.message}`
  if (!ok) return refusal?.code ?? 'refused'
  return override ? `override:${override.codes.join(',')}` : 'done'
}

describe('a scenario', () => {
  test.each(scenarios)('%s', (_, { sheets, lines }) => {
    const setUp = sheets.map((named) => ({
      atMin: 0,
      type: 'SaveSheet',
      data: { sheet: sheetOf(named) },
    }))
    // Told in the painter's order, played in the order of time.
    const told = lines.toSorted((a, b) => a[0] - b[0])
    const played = rehearse([
      ...setUp,
      ...told.map(([atMin, type, data, , , more]) => ({ atMin, type, data, ...more })),
    ])
    const answers = [...played].filter((line): line is CommandLine => 'type' in line)
    expect(answers.slice(0, setUp.length).map(answerOf)).toEqual(setUp.map(() => 'done'))
    expect(
      answers
        .slice(setUp.length)
        .map((line, i) => [line.atMin, line.type, answerOf(line), told[i]?.[4]]),
    ).toEqual(told.map(([atMin, type, , expected, why]) => [atMin, type, expected, why]))
  })
})
