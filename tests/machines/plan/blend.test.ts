import fc from 'fast-check'
import { expect, test } from 'vitest'
import { OPERATIONS } from '../../../machines/panel/context.ts'
import { blendProposals } from '../../../machines/plan/blend.ts'
import { type BodyType, bodyTypes, neighbors } from '../../../machines/trade/panels.ts'

/** Proposals for blending: common practice, no source; which panels are neighbors is the body's own data. */

const van = bodyTypes.find(({ id }) => id === 'van') as BodyType

test('the neighbors of a repaired rear side panel are proposed, in the body’s own order', () => {
  expect(blendProposals(van, [{ id: 'right-rear-side', operation: 'repair' }])).toEqual([
    'roof',
    'rear-bumper',
    'right-side-door',
    'right-rear-door',
    'right-rocker',
  ])
})

test('what is chosen already is not proposed, whatever is done to it', () => {
  const chosen = [
    { id: 'right-rear-side', operation: 'repair' },
    { id: 'right-rear-door', operation: 'blend' },
    { id: 'roof', operation: 'clear-only' },
  ] as const
  expect(blendProposals(van, chosen)).toEqual(['rear-bumper', 'right-side-door', 'right-rocker'])
})

test('a blend and a panel that is only cleared need no other blend', () => {
  for (const operation of ['blend', 'clear-only'] as const)
    expect(blendProposals(van, [{ id: 'hood', operation }])).toEqual([])
})

test('of any choice on any body: proposed is what touches full color and is not chosen', () => {
  const choice = fc.constantFrom(...bodyTypes).chain((of) =>
    fc.record({
      of: fc.constant(of),
      chosen: fc.uniqueArray(
        fc.record({
          id: fc.constantFrom(...of.panels.map(({ id }) => id)),
          operation: fc.constantFrom(...OPERATIONS),
        }),
        { selector: ({ id }) => id },
      ),
    }),
  )
  fc.assert(
    fc.property(choice, ({ of, chosen }) => {
      const proposed = blendProposals(of, chosen)
      for (const { id } of of.panels) {
        const touches = neighbors(of, id).some((beside) =>
          chosen.some(
            (c) => c.id === beside && (c.operation === 'new-part' || c.operation === 'repair'),
          ),
        )
        const isChosen = chosen.some((c) => c.id === id)
        expect(proposed.includes(id)).toBe(touches && !isChosen)
      }
    }),
  )
})
