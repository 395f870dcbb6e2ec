import { describe, expect, test } from 'vitest'
import { isSpraying, openBells, withoutWaiting } from '../../kiosk/bells/openBells.ts'
import {
  asOneTouch,
  lastPress,
  noting,
  offered,
  startedHere,
} from '../../kiosk/commands/presses.ts'
import { pressedBy, who } from '../../kiosk/commands/queuedCommand.ts'
import type { Send, Sent } from '../../kiosk/commands/send.ts'
import {
  lifted,
  looksWiped,
  NO_TOUCHES,
  type Touches,
  touched,
} from '../../kiosk/device/touchRules.ts'
import { CLEAR } from '../support/sheets.ts'
import { Shop } from '../support/shop.ts'

const kept =
  (ids: string[]): Send =>
  async () => ({ kind: 'kept', id: ids.shift() ?? 'none', entries: [{ id: 'e' }] as never })

describe('what was pressed here', () => {
  test('is noted with its panels, so that one more touch voids it; bells and labels are not', async () => {
    lastPress.value = null
    const send = noting(kept(['c1', 'c2', 'c3']))
    await send('AcknowledgeBell', { key: 'k' })
    await send('PrintLabel', { cup: 'K7QDM2XV' })
    expect(lastPress.value).toBeNull()
    await send('FinishCoat', { panels: ['A', 'B'] })
    expect(lastPress.value).toEqual({ type: 'FinishCoat', commands: ['c3'], panels: ['A', 'B'] })
  })

  test('is one thing to undo when one touch sent several commands', async () => {
    const send = noting(kept(['c1', 'c2']))
    await asOneTouch('InspectCoat', async () => {
      await send('InspectCoat', { panel: 'A', result: 'matt' })
      await send('InspectCoat', { panel: 'B', result: 'matt' })
    })
    expect(lastPress.value).toEqual({
      type: 'InspectCoat',
      commands: ['c1', 'c2'],
      panels: ['A', 'B'],
    })
  })

  test('is nothing when it was refused, or said nothing new', async () => {
    lastPress.value = null
    const refused = noting(async () => ({ kind: 'away' }))
    await refused('FinishCoat', { panels: ['A'] })
    const nothingNew = noting(async () => ({ kind: 'kept', id: 'c', entries: [] }))
    await nothingNew('FinishCoat', { panels: ['A'] })
    expect(lastPress.value).toBeNull()
  })

  test('is not what was pressed before it, while its own answer is on the way', async () => {
    await noting(kept(['c1']))('FinishCoat', { panels: ['A'] })
    let answer: (sent: Sent) => void = () => {}
    const slow = noting(
      () =>
        new Promise<Sent>((done) => {
          answer = done
        }),
    )
    const started = slow('StartCoat', { panels: ['B'], cup: 'K7QDM2XV' })
    expect(offered.value).toBeNull()
    // A bell that is silenced meanwhile is nothing to undo: it changes nothing.
    await noting(kept(['bell']))('AcknowledgeBell', { key: 'k' })
    answer({ kind: 'kept', id: 'c2', entries: [{ id: 'e' }] as never })
    await started
    const press = offered.value
    expect(press).toMatchObject({ type: 'StartCoat', commands: ['c2'] })
    // What was refused leaves the one before it, for as long as that was offered anyway.
    const refused = slow('FinishCoat', { panels: ['B'] })
    expect([offered.value, lastPress.value]).toEqual([null, press])
    answer({ kind: 'away' })
    await refused
    expect(offered.value).toBe(press)
  })

  test('counts from the press when the server is away and the command waits', async () => {
    lastPress.value = null
    await noting(async () => ({ kind: 'queued', id: 'q1' }))('FinishCoat', { panels: ['A'] })
    expect(lastPress.value).toMatchObject({ commands: ['q1'] })
  })

  test('carries who pressed it; a bell that rings by itself carries no person', () => {
    who.value = 'p1'
    expect(pressedBy('StartCoat')).toEqual({ by: 'p1' })
    expect(pressedBy('RingBell')).toEqual({})
    who.value = null
    expect(pressedBy('StartCoat')).toEqual({})
  })
})

describe('while a painter sprays', () => {
  const panel = (n: number) => `PANE2222`.replace(/2$/, String(n + 2))
  function flashing(): Shop {
    const shop = new Shop()
    shop.do('SaveSheet', { sheet: CLEAR })
    shop.do('OpenJob', { job: 'VANREAR2', title: 'Delivery van' })
    for (const n of [0, 1])
      shop.do('AddPanel', {
        job: 'VANREAR2',
        panel: panel(n),
        name: `Panel ${n}`,
        operation: 'repair',
        route: [{ stage: 'clear', sheet: CLEAR.sheet }],
      })
    shop.do('MixCup', { cup: 'K7QDM2XV', sheet: CLEAR.sheet, totalMl: 500 })
    shop.at(1).do('FinishCoat', { panels: [panel(0)], cup: 'K7QDM2XV' })
    shop.at(5).do('StartCoat', { panels: [panel(1)], cup: 'K7QDM2XV' }, { id: 'start-here' })
    return shop
  }
  const kinds = (shop: Shop, starts: string[]) =>
    withoutWaiting(openBells(shop.state), shop.state, starts).bells.map((b) => b.kind)

  test('the prompts of the kiosk that started the coat wait, its alarms do not', () => {
    const shop = flashing()
    expect(kinds(shop, [])).toContain('coatReady')
    const held = kinds(shop, ['start-here'])
    expect(held).not.toContain('coatReady')
    for (const alarm of ['potNear', 'potOver', 'windowClosing', 'windowShut'])
      expect(held).toContain(alarm)
  })

  test('another kiosk’s prompts do not wait, and after the finish no prompts wait', () => {
    const shop = flashing()
    expect(isSpraying(shop.state, ['another-start'])).toBe(false)
    shop.at(7).do('FinishCoat', { panels: [panel(1)] })
    expect(isSpraying(shop.state, ['start-here'])).toBe(false)
    expect(kinds(shop, ['start-here'])).toContain('coatReady')
  })

  test('a start is known here by its command', async () => {
    startedHere.value = []
    await noting(kept(['s1']))('StartCoat', { panels: ['A'], cup: 'C' })
    await noting(kept(['f1']))('FinishCoat', { panels: ['A'] })
    expect(startedHere.value).toEqual(['s1'])
  })
})

describe('a touch', () => {
  const press = (t: Touches, ids: number[], widthMm = 10, atMs = 0) =>
    ids.reduce((all, id) => touched(all, id, widthMm, atMs), t)

  test('of two fingers counts, of three it is a palm until all are lifted', () => {
    expect(press(NO_TOUCHES, [1, 2]).isPalm).toBe(false)
    const palm = press(NO_TOUCHES, [1, 2, 3])
    expect(palm.isPalm).toBe(true)
    expect(lifted(lifted(palm, 1), 2).isPalm).toBe(true)
    expect(lifted(lifted(lifted(palm, 1), 2), 3).isPalm).toBe(false)
  })

  test('wider than 30 mm is a rag', () => {
    expect(press(NO_TOUCHES, [1], 30).isPalm).toBe(false)
    expect(press(NO_TOUCHES, [1], 31).isPalm).toBe(true)
  })

  test('that was wrong more than ten times in five seconds is a cloth wiping the glass', () => {
    const wrong = (times: number, everyMs: number) =>
      Array.from({ length: times }).reduce<Touches>(
        (t, _, n) => lifted(touched(t, 1, 50, n * everyMs), 1),
        NO_TOUCHES,
      )
    expect(looksWiped(wrong(11, 400))).toBe(true)
    expect(looksWiped(wrong(10, 400))).toBe(false)
    expect(looksWiped(wrong(30, 1_000))).toBe(false)
  })
})
