import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { Entry } from '../../../machines/envelope.ts'
import { fold } from '../../../machines/fold.ts'
import { emptyState } from '../../../machines/state.ts'

const log = new URL('../../logs/0.1.0-van.jsonl', import.meta.url)
const golden = readFileSync(log, 'utf8').trim().split('\n')
const entries = golden.map((line) => JSON.parse(line) as Entry)

test('a start or finish from a cup folds no other panel again, also within a pass of one instant', () => {
  let state = emptyState(entries[0]?.shop ?? '', '')
  let passes = 0
  for (const [i, entry] of entries.entries()) {
    const before = state
    state = fold(before, entry)
    if (entry.type !== 'CoatStarted' && entry.type !== 'CoatFinished') continue
    for (const [id, panel] of Object.entries(before.things.panel))
      if (id !== entry.panel) expect(state.things.panel[id], `${entry.id} ${id}`).toBe(panel)
    const last = entries[i - 1]
    if (last?.type === 'CoatStarted' && last.at === entry.at) passes += 1
  }
  expect(passes).toBeGreaterThan(2)
})
