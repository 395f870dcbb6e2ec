import { expect, test } from 'vitest'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { encodePanelCode, readCode } from '../../labels/code.ts'
import type { LabelProblemCode } from '../../machines/contract/labelProblem.ts'
import { CLEAR_CODE, OURS, problemOf, read, resealed } from '../support/labelCodes.ts'
import { days, MIXED_AT_MS, minutes } from '../support/labelSamples.ts'

/** What is wrong with a code that was read, in the shop's language, with all that the sentence names. */

const SLIP = CLEAR_CODE.replaceAll('-', 'ß').toLowerCase()
const THEIRS = readCode(encodePanelCode({ shopTag: 'ZZZ', panel: 'R4TPDXYZ' }), OURS)
const ALL: Record<LabelProblemCode, ReturnType<typeof read>> = {
  empty: read(' '),
  notOurs: read('https://example.org/x'),
  notInAlphabet: read('K0'),
  keyboardLayout: read(SLIP),
  unknownSchema: read(CLEAR_CODE.replace('C1-', 'C2-')),
  checksum: read(CLEAR_CODE.replace('C1-K7F', 'C1-K7G')),
  garbled: read(resealed(CLEAR_CODE, (f) => f.slice(0, -1))),
  otherShop: THEIRS,
  mixedInFuture: read(CLEAR_CODE, MIXED_AT_MS - minutes(6)),
  tooOld: read(CLEAR_CODE, MIXED_AT_MS + days(31)),
}

test.each(Object.entries(ALL))('%s', (code, result) => {
  const problem = problemOf(result)
  expect(problem.code).toBe(code)
  const english = en.said.labels[problem.code](...problem.names)
  const spanish = es.said.labels[problem.code](...problem.names)
  expect(english).toMatch(/^\S.+\.$/)
  expect(spanish).toMatch(/^\S.+\.$/)
  expect(spanish).not.toMatch(/undefined|\b(label|scan|again|the)\b/i)
  for (const name of problem.names) {
    expect(english).toContain(name)
    expect(spanish).toContain(name)
  }
})
