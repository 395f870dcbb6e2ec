import { expect, test } from 'vitest'
import { withEdgesFirst } from '../../../machines/plan/cutIn.ts'

/** Edges of a part off the vehicle come before its face: common practice, no source. */

const step = (stage: 'prep' | 'sealer' | 'base' | 'clear' | 'cure', face = 'whole' as const) => ({
  stage,
  face,
})

test('color and clear go on the edges before the whole face, after the undercoat', () => {
  const route = [step('prep'), step('sealer'), step('base'), step('clear'), step('cure')]
  expect(withEdgesFirst(route).map(({ stage, face }) => `${stage} ${face}`)).toEqual([
    'prep whole',
    'sealer whole',
    'base edges',
    'clear edges',
    'base whole',
    'clear whole',
    'cure whole',
  ])
})

test('once is enough, and a route without color stays as it is', () => {
  const once = withEdgesFirst([step('base'), step('clear')])
  expect(withEdgesFirst(once)).toEqual(once)
  const bare = [step('prep'), step('cure')]
  expect(withEdgesFirst(bare)).toEqual(bare)
})
