import fc from 'fast-check'
import { expect, test } from 'vitest'
import { zoneFolder } from '../../../machines/climate/fold.ts'
import type { Draft } from '../../../machines/envelope.ts'
import { patience, tries } from '../../support/randomRuns.ts'

const reading = fc.record(
  {
    airC: fc.double({ min: -10, max: 60, noNaN: true }),
    rh: fc.double({ min: 0, max: 1, noNaN: true }),
    surfaceC: fc.double({ min: -10, max: 90, noNaN: true }),
  },
  { requiredKeys: ['airC', 'rh'] },
)
const saved = fc.record(
  { zone: fc.constant('booth'), name: fc.string(), clearanceMin: fc.nat() },
  { requiredKeys: ['zone', 'name'] },
)
const fact = fc.oneof(
  { weight: 4, arbitrary: reading.map((data) => ({ type: 'ClimateRead', data })) },
  { weight: 1, arbitrary: saved.map((data) => ({ type: 'ZoneSaved', data })) },
)
const entry = fc.record({ fact, at: fc.nat(), n: fc.nat() }).map(
  ({ fact: { type, data }, at, n }): Draft => ({
    ...{
      shop: 's',
      id: `c${at}-${n}.0`,
      type,
      version: 1,
      at,
      enteredAt: at,
      device: null,
      by: null,
    },
    ...{ command: `c${at}`, seq: 1, zone: 'booth', data },
  }),
)

test('a zone folded whole is what it comes to reading by reading', { timeout: patience }, () => {
  fc.assert(
    fc.property(fc.array(entry, { maxLength: 60 }), (entries) => {
      const stepped = entries.reduce((before, e) => zoneFolder.step(before, e), zoneFolder.blank)
      expect(zoneFolder.whole?.(entries)).toEqual(stepped)
    }),
    tries(100),
  )
})
