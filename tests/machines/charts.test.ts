import { readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import type { AnyStateMachine } from 'xstate'
import { bellMachine } from '../../machines/bell/machine.ts'
import { cupMachine } from '../../machines/cup/machine.ts'
import { gunMachine } from '../../machines/gun/machine.ts'
import { jobMachine } from '../../machines/job/machine.ts'
import { panelMachine } from '../../machines/panel/machine.ts'
import { chartText } from '../support/chartText.ts'
import { nodesOf } from './graph/paths.ts'

/**
 * DEVELOPERS.md carries each chart as its machine draws it. After a change of a machine:
 * FLASHBELL_CHARTS=write npm test -- tests/machines/charts.test.ts
 */
const FILE = fileURLToPath(new URL('../../DEVELOPERS.md', import.meta.url))
const BEGIN = '<!-- charts: drawn from the machines -->\n'
const END = '<!-- end of charts -->'
/** What one can take in at a glance: a printed page. */
const PAGE_LINES = 66

const MACHINES: readonly AnyStateMachine[] = [
  panelMachine,
  cupMachine,
  gunMachine,
  jobMachine,
  bellMachine,
]
const charts = MACHINES.map((machine) => chartText(machine))
const drawn = `${charts.map((chart) => `\`\`\`\n${chart}\n\`\`\`\n`).join('\n')}`

describe('the charts in DEVELOPERS.md', () => {
  test('are those of the machines', () => {
    const page = readFileSync(FILE, 'utf8')
    const [before = '', rest = ''] = page.split(BEGIN)
    const [standing, after] = rest.split(END)
    if (process.env.FLASHBELL_CHARTS === 'write') {
      writeFileSync(FILE, `${before}${BEGIN}${drawn}${END}${after}`)
      return
    }
    expect(standing).toBe(drawn)
  })

  test.each(MACHINES.map((machine, i) => [machine.id, charts[i] ?? ''] as const))(
    '%s fits one page',
    (_, chart) => {
      expect(chart.split('\n').length).toBeLessThanOrEqual(PAGE_LINES)
    },
  )

  test.each(MACHINES.map((machine, i) => [machine.id, machine, charts[i] ?? ''] as const))(
    '%s names every state and everything that may be said of it',
    (_, machine, chart) => {
      const words = new Set(chart.split(/[^A-Za-z_-]+/))
      const states = nodesOf(machine).flatMap((node) => (node.parent ? node.key : []))
      const facts = machine.events.filter((type: string) => !type.startsWith('xstate.'))
      expect([...states, ...facts].filter((word) => !words.has(word))).toEqual([])
    },
  )
})
