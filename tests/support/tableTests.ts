import { expect, test } from 'vitest'
import { type Part, wrongWith } from './rulesTable.ts'

/** Words of a text from where it leaves another one on. */
function leaves(text: string, other: string): string {
  const [own, others] = [text.split(' '), other.split(' ')]
  const at = own.findIndex((word, i) => word !== others[i])
  return at === -1 ? '' : own.slice(at, at + 8).join(' ')
}

/**
 * Tests that a table says a text, and that each of its parts has a test that is there.
 * @param whole the text, in words
 */
export function testTable(whole: string, parts: readonly Part[]): void {
  test('the table says every sentence of the text in its order, and nothing else', () => {
    const table = parts.map(({ text }) => text).join(' ')
    expect(leaves(whole, table)).toBe('')
    expect(leaves(table, whole)).toBe('')
  })

  test('what explains says why, and is shown by nothing', () => {
    for (const { text, explains, by, edges } of parts) {
      if (explains === null) continue
      expect([text, explains.length > 3, by, edges]).toEqual([text, true, [], []])
    }
  })

  const norms = parts.filter(({ explains }) => explains === null)
  test.each(norms.map((part) => [part.text, part] as const))('%s', (_, { text, by, edges }) => {
    expect(by.length).toBeGreaterThan(0)
    const named = [...by, ...edges.filter(({ file }) => file !== 'none')]
    expect(named.flatMap((one) => wrongWith(one) ?? [])).toEqual([])
    if (/\d/.test(text)) expect(edges.length, 'a figure has an edge').toBeGreaterThan(0)
  })
}
