import { expect, test } from 'vitest'
import { openTestShop } from '../support/serverShop.ts'

const PATH = '/api/plan/blend'
const side = { panel: 'right-rear-side', operation: 'repair' }

test('POST /api/plan/blend answers with the plan, and records nothing', async () => {
  const { post, shops } = await openTestShop()
  const before = shops.ownWriter.state().head
  const { status, body } = await post(PATH, { body: 'van', colour: 'metallic', panels: [side] })
  expect(status).toBe(200)
  expect(body).toMatchObject({
    cutIn: [],
    blends: [
      { panel: 'roof', beside: ['right-rear-side'] },
      { panel: 'rear-bumper' },
      { panel: 'right-side-door' },
      { panel: 'right-rear-door' },
      { panel: 'right-rocker' },
    ],
  })
  expect(shops.ownWriter.state().head).toBe(before)
})

test('a panel that the body does not have is named in one sentence, with those it has', async () => {
  const { post } = await openTestShop()
  const panels = [side, { panel: 'trunk-lid', operation: 'repair' }]
  const { status, body } = await post(PATH, { body: 'van', colour: 'solid', panels })
  expect(status).toBe(400)
  expect((body as { error: unknown }).error).toMatchObject({
    code: 'panelOfBody',
    field: 'panels.1.panel',
    message: expect.stringMatching(
      /^panels\.1\.panel: "trunk-lid" won't work\. Use a panel that a van has: hood, roof, /,
    ),
  })
})
