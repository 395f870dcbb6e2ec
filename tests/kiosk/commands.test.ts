import { signal } from '@preact/signals'
import { beforeEach, expect, test } from 'vitest'
import { lastPress, lastUndone, noting } from '../../kiosk/commands/presses.ts'
import { type Again, commandsBy, IDLE } from '../../kiosk/commands/useCommands.ts'
import { outboxShop } from './outboxShop.ts'

/** The commands of a page before a real server: two panels whose steps are not done. */

const JOB = 'HACARAB2'
const [DOOR, QUARTER] = ['DRSKN222', 'QPNEH222'] as const
const PASS = [{ panel: DOOR }, { panel: QUARTER }]

async function page() {
  const shop = await outboxShop()
  await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
  for (const panel of [DOOR, QUARTER])
    await shop.given('AddPanel', {
      job: JOB,
      panel,
      name: panel,
      operation: 'repair',
      route: [{ stage: 'prep' }],
    })
  const { send } = shop.page().out
  return { shop, ...commandsBy(noting(send), signal(IDLE), signal<Again | null>(null)) }
}

const passed = async (shop: Awaited<ReturnType<typeof outboxShop>>) =>
  (await shop.log()).filter(({ type }) => type === 'PanelPassed').map(({ panel }) => panel)

beforeEach(() => {
  lastPress.value = null
  lastUndone.value = null
})

test('an override goes on with what one touch was to send after the refused one', async () => {
  const { shop, sending, all, again } = await page()
  expect(await all('PassPanel', PASS)).toBe(false)
  expect(sending.value).toMatchObject({ busy: false, sent: { kind: 'refused' } })
  expect(await passed(shop)).toEqual([])
  // The next panel is refused by the same rule, and asks for a reason of its own.
  expect(await again('DELIBERATE_TECHNIQUE')).toBe(false)
  expect(await passed(shop)).toEqual([DOOR])
  expect(await again('DELIBERATE_TECHNIQUE')).toBe(true)
  expect(await passed(shop)).toEqual([DOOR, QUARTER])
})

test('nothing is sent again once the form has changed', async () => {
  const { shop, sending, ask, again, clear } = await page()
  await ask('PassPanel', { panel: DOOR })
  clear()
  expect(sending.value).toEqual(IDLE)
  expect(await again('BREAK')).toBe(false)
  expect(await passed(shop)).toEqual([])
})

test('one undo takes back all that one touch sent', async () => {
  const { shop, all, undo } = await page()
  expect(
    await all('DoPrepStep', [
      { panel: DOOR, step: 0 },
      { panel: QUARTER, step: 0 },
    ]),
  ).toBe(true)
  const press = lastPress.value
  expect(press?.panels).toEqual([DOOR, QUARTER])
  expect(press && (await undo(press))).toBe(null)
  expect([lastPress.value, lastUndone.value]).toEqual([null, press])
  expect((await shop.log()).filter(({ type }) => type === 'EntryVoided')).toHaveLength(2)
})

test('what was typed and is not a number is not sent, and is named', async () => {
  const { shop, sending, askTyped } = await page()
  const before = shop.received.length
  await askTyped('ReadPart', { panel: DOOR, partC: 'warm' })
  expect(sending.value.sent).toMatchObject({ kind: 'wrong', error: { field: 'data.partC' } })
  expect(shop.received).toHaveLength(before)
})
