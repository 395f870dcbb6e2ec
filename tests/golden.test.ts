import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import type { Entry } from '../machines/envelope.ts'
import { entryText, sha256 } from '../server/log/canonical.ts'
import { emptyHead, link } from '../server/log/chain.ts'
import { type Looked, walkLog } from './support/golden.ts'

/**
 * One log of every release, forever: files are added, never edited. What a shop recorded with an
 * old release must come to the same with a new one.
 */
const FOLDER = fileURLToPath(new URL('./logs/', import.meta.url))
const names = readdirSync(FOLDER).filter((name) => name.endsWith('.jsonl'))

const entriesIn = (name: string): Entry[] =>
  readFileSync(`${FOLDER}${name}`, 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Entry)

test('there is a golden log', () => {
  expect(names.length).toBeGreaterThan(0)
})

describe.each(names)('%s', (name) => {
  const entries = entriesIn(name)
  const first = emptyHead(entries[0]?.shop ?? '').hash
  const expected = JSON.parse(
    readFileSync(`${FOLDER}${name.replace('.jsonl', '.json')}`, 'utf8'),
  ) as Looked[]

  test('its chain still verifies', () => {
    let previous = first
    for (const entry of entries) {
      previous = link(previous, sha256(entryText(entry)))
      expect(entry.hash, `entry ${entry.position}`).toBe(previous)
    }
  })

  test('it folds to the states and deadlines that it was recorded with, and every entry is taken', () => {
    const { looked } = walkLog(entries, first)
    expect(looked).toEqual(expected)
    expect(looked.at(-1)?.notTaken).toEqual([])
  })
})
