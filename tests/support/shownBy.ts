import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** Whether a test that is named beside a claim really says it: it runs, and asserts what is named. */

const TESTS = join(import.meta.dirname, '..')
/** Where a test or a group begins that runs: not one that is left out or commented out. */
const BEGINS = /^( {0,4})(?:test|describe)(?:\.each)?\(/

/** What a line does that fails where it is not so. */
const ASSERTS = /\bexpect|waitFor|\.(?:tap|click)\(/

type Block = { readonly indent: number; readonly lines: readonly string[] }

/** Each test and each group with all that is in it. */
function blocksOf(source: string): Block[] {
  const lines = source.split('\n').filter((line) => !/^\s*(?:\/\/|\*|\/\*)/.test(line))
  return lines.flatMap((line, i): Block[] => {
    const indent = BEGINS.exec(line)?.[1]?.length
    if (indent === undefined) return []
    const ends = lines.findIndex(
      (other, j) =>
        j > i && (BEGINS.exec(other)?.[1]?.length ?? Number.POSITIVE_INFINITY) <= indent,
    )
    return [{ indent, lines: lines.slice(i, ends < 0 ? undefined : ends) }]
  })
}

/** The first line of a block that opens a function's body ends its title. */
const headOf = ({ lines }: Block): string => {
  const opens = lines.findIndex((line) => /=> \{$/.test(line))
  return lines.slice(0, opens + 1).join('\n')
}

/**
 * @param file of a test, below tests/
 * @param title of a test or a group in it, or a part of it
 * @param asserted what must stand in something that it asserts
 * @returns what is wrong, or null
 */
export function notShown(file: string, title: string, asserted: string): string | null {
  const blocks = blocksOf(readFileSync(join(TESTS, file), 'utf8'))
  const own = blocks.filter((block) => headOf(block).includes(title))
  if (own.length === 0) return `${file} has no test "${title}" that runs`
  const isSaid = own.some(({ lines }) => {
    // What is asserted may stand on the lines that a call goes on with.
    const text = lines.join('\n').split(/\n(?=\s*(?:await |const |if |for |return |expect|\}))/)
    return text.some((one) => ASSERTS.test(one) && one.includes(asserted))
  })
  return isSaid ? null : `"${title}" in ${file} does not assert ${asserted}`
}
