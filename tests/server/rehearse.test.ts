import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dueBells } from '../../machines/deadlines.ts'
import { emptyState } from '../../machines/state.ts'
import { type RehearsalLine, rehearse } from '../../server/rehearse.ts'
import { runs } from '../support/randomRuns.ts'
import { CUP, DOOR, JOB, QUARTER, vanInWork } from '../support/serverCommands.ts'
import { anyHistory, type Step } from '../support/serverHistories.ts'
import { MINUTE, START_MS } from '../support/serverShop.ts'
import { CLEAR } from '../support/sheets.ts'

type Line = { atMin: number; type: string; data: object } & Record<string, unknown>

const setUp: Line[] = vanInWork.map(({ type, data }) => ({ atMin: 0, type, data: data as object }))
const start = (atMin: number, panels: readonly string[] = [DOOR], more: object = {}): Line => ({
  atMin,
  type: 'StartCoat',
  data: { panels, cup: CUP, ...more },
})
const finish = (atMin: number, panels: readonly string[] = [DOOR], more: object = {}): Line => ({
  atMin,
  type: 'FinishCoat',
  data: { panels },
  ...more,
})

const played = (...lines: readonly unknown[]): RehearsalLine[] => [
  ...rehearse([...setUp, ...lines]),
]
/** What came of the lines behind the set-up, without the state. */
const following = (...lines: readonly unknown[]) => played(...lines).slice(setUp.length, -1)
const bells = (lines: readonly RehearsalLine[]) => lines.filter((line) => 'bell' in line)

describe('a rehearsal', () => {
  test('plays each command at its minute and ends with the state', () => {
    const lines = played(start(10), finish(12))
    expect(lines.slice(0, setUp.length)).toEqual(
      setUp.map(({ type }) => ({ atMin: 0, type, ok: true })),
    )
    expect(lines.at(-1)).toMatchObject({
      state: {
        things: {
          panel: {
            [DOOR]: {
              context: {
                coats: [{ startedAt: START_MS + 600_000, finishedAt: START_MS + 720_000 }],
              },
            },
          },
        },
      },
    })
    expect(JSON.stringify(lines)).toBe(JSON.stringify(played(start(10), finish(12))))
  })

  test('rings a bell at its moment, before a command of the same minute', () => {
    // The sheet: 8 min between coats at 20 °C, which is what the reading says.
    expect(following(start(10), finish(12), start(19.5), start(20)).slice(2, 5)).toMatchObject([
      {
        atMin: 19.5,
        type: 'StartCoat',
        ok: false,
        refusal: { code: 'flashNotOver', clearsAt: START_MS + 20 * 60_000, overridable: true },
      },
      { atMin: 20, bell: 'coatReady', thing: DOOR },
      { atMin: 20, type: 'StartCoat', ok: true },
    ])
  })

  test('keeps ringing after the last command until no deadline is left', () => {
    const rung = bells(following(start(10), finish(12)))
    // 1440 min of recoat window: "closing" 10 % of it before its end, counted from the flash's end.
    expect(rung).toEqual([
      { atMin: 20, bell: 'coatReady', thing: DOOR },
      { atMin: 1308.8, bell: 'windowClosing', thing: DOOR },
      { atMin: 1452, bell: 'windowShut', thing: DOOR },
      { atMin: 30 * 24 * 60, bell: 'keepUntil', thing: CUP },
    ])
  })

  test('rings once for a pass, at its last panel, and names the panels', () => {
    const lines = following(start(10, [DOOR, QUARTER]), finish(14, [DOOR, QUARTER]))
    const ready = bells(lines).filter((line) => 'bell' in line && line.bell === 'coatReady')
    expect(ready).toEqual([
      { atMin: 22, bell: 'coatReady', thing: QUARTER, panels: [DOOR, QUARTER] },
    ])
  })

  test('rings at once what was past due when it became known', () => {
    const late = { happenedAtMin: 12, enteredAtMin: 12, device: 'kiosk-1', seq: 1 }
    const lines = following(start(10), finish(40, [DOOR], late), start(45))
    // Until its finish was known, it was asked whether the coat was finished.
    expect(lines.slice(1, 5)).toMatchObject([
      { bell: 'coatOpen', thing: DOOR },
      { atMin: 40, type: 'FinishCoat', ok: true },
      { atMin: 40, bell: 'coatReady', thing: DOOR },
      { atMin: 45, type: 'StartCoat', ok: true },
    ])
  })

  test('rings again for a deadline that moves later by over a minute', () => {
    const colder = (happenedAtMin: number): Line => ({
      atMin: 21,
      type: 'ReadClimate',
      data: { zone: 'booth', airC: 15, rh: 0.5 },
      happenedAtMin,
    })
    // From minute 13 on at 15 °C: 7 min at 20 °C are 7 x sqrt 2 min there.
    const lines = following(start(10), finish(12), colder(13))
    const ready = bells(lines).filter((line) => 'bell' in line && line.bell === 'coatReady')
    expect(ready).toMatchObject([{ atMin: 20 }, { atMin: expect.closeTo(13 + 7 * Math.SQRT2, 2) }])
  })

  test('records a bell once, also when a line of the list rings it', () => {
    const [ring] = following(start(10), finish(12)).filter((line) => 'bell' in line)
    expect(ring).toMatchObject({ atMin: 20 })
    const key = `coatReady:rehearse-line-${setUp.length + 2}`
    const ringing = { atMin: 25, type: 'RingBell', data: { key } }
    const lines = played(start(10), finish(12), ringing)
    expect(lines).toContainEqual({ atMin: 25, type: 'RingBell', ok: true })
    const state = lines.at(-1)
    const rung = 'state' in (state ?? {}) ? JSON.stringify(state).split('"BellRang"').length - 1 : 0
    expect(rung).toBe(bells(lines).length)
  })

  test('says which limits a late fact broke, and what an override went on against', () => {
    const override = { reason: 'the lead said so' }
    const late = { happenedAtMin: 14, enteredAtMin: 14 }
    const lines = following(
      start(10),
      finish(12),
      { ...start(16), ...late },
      finish(17),
      start(18, [DOOR], { override, step: 0 }),
    ).filter((line) => 'type' in line)
    expect(lines[2]).toEqual({
      atMin: 16,
      type: 'StartCoat',
      ok: true,
      outside: [
        { code: 'flashNotOver', limit: START_MS + 20 * 60_000, value: START_MS + 14 * 60_000 },
      ],
      notJudged: ['dewPoint'],
    })
    expect(lines[4]).toMatchObject({
      atMin: 18,
      ok: true,
      override: {
        reason: 'the lead said so',
        codes: ['flashNotOver'],
        broken: [{ code: 'flashNotOver' }],
      },
    })
  })
})

describe('lines of a rehearsal', () => {
  test('with the same id and body are answered as before, with another body refused', () => {
    const once = { ...start(10), id: 'pass-1' }
    const lines = following(once, { ...once, atMin: 11 }, { ...start(12, [QUARTER]), id: 'pass-1' })
    expect(lines.slice(0, 3)).toMatchObject([
      { atMin: 10, ok: true },
      { atMin: 11, ok: true },
      {
        atMin: 12,
        ok: false,
        refusal: { code: 'commandIdReused', message: expect.any(String), also: [] },
      },
    ])
  })

  test('with an id that was refused are decided again', () => {
    const again = { type: 'PauseJob', data: { job: 'VANJAB33' }, id: 'pause' }
    const open = { atMin: 2, type: 'OpenJob', data: { job: 'VANJAB33', title: 'Delivery van' } }
    expect(
      following({ atMin: 1, ...again }, open, { atMin: 3, ...again }).slice(0, 3),
    ).toMatchObject([{ ok: false, refusal: { code: 'unknownThing' } }, { ok: true }, { ok: true }])
  })

  test('are played by minute, and within a minute in the order of the list', () => {
    const open = (atMin: number, job: string): Line => ({
      atMin,
      type: 'OpenJob',
      data: { job, title: 'Delivery van' },
    })
    const lines = [...rehearse([open(5, 'JJJJ5555'), open(2.5, 'JJJJ2222'), open(5, 'JJJJ5555')])]
    expect(lines).toMatchObject([
      { atMin: 2.5, ok: true },
      { atMin: 5, ok: true },
      { atMin: 5, ok: false },
      { state: { recordedAt: START_MS + 300_000 } },
    ])
  })

  test('that are wrong are said to be so, and the rest is played', () => {
    const wrong: readonly [unknown, object][] = [
      [
        'two coats',
        { atMin: null, type: null, error: { message: expect.stringMatching(/an object/) } },
      ],
      [null, { atMin: null, error: {} }],
      [
        { type: 'PauseJob', data: {} },
        { atMin: null, type: 'PauseJob', error: { field: 'atMin' } },
      ],
      [
        { atMin: '3', type: 'PauseJob', data: {} },
        { atMin: null, error: { field: 'atMin' } },
      ],
      [
        { atMin: 1e300, type: 'PauseJob', data: {} },
        { atMin: 1e300, error: { field: 'atMin' } },
      ],
      [
        { atMin: 4, kind: 'PauseJob' },
        { atMin: 4, type: null, error: { field: 'kind' } },
      ],
      [
        { atMin: 4, type: 'PaintItBlue', data: {} },
        { type: 'PaintItBlue', error: { field: 'type' } },
      ],
      [{ atMin: 4, type: 'PauseJob', data: {} }, { error: { field: 'data.job' } }],
      [{ atMin: 4, type: 'PauseJob', data: { job: JOB }, id: 'a b' }, { error: { field: 'id' } }],
      [
        { atMin: 4, type: 'PauseJob', data: { job: JOB }, happenedAtMin: 9 },
        { error: { field: 'at' } },
      ],
    ]
    const lines = following(...wrong.map(([line]) => line), start(10))
    const told = lines.filter((line) => 'ok' in line)
    for (const [i, [, said]] of wrong.entries())
      expect(told[i]).toMatchObject({ ok: false, ...said })
    expect(told[wrong.length]).toMatchObject({ atMin: 10, ok: true })
  })

  test('of an empty list leave the state of an empty shop', () => {
    expect([...rehearse([])]).toMatchObject([{ state: { head: 0 } }])
  })
})

test('the scenario of a bake ends as the sheet says', () => {
  const file = new URL('../scenarios/door-bake.json', import.meta.url)
  const list: Line[] = JSON.parse(readFileSync(file, 'utf8'))
  const sheet = { atMin: 0, type: 'SaveSheet', data: { sheet: CLEAR } }
  const lines = [...rehearse([sheet, ...list])]
  expect(lines.filter((line) => 'ok' in line && !line.ok)).toMatchObject([
    { atMin: 40, type: 'StartCure', refusal: { code: 'flashNotOver' } },
  ])
  const rung = bells(lines).map((line) => ('bell' in line ? `${line.atMin} ${line.bell}` : ''))
  expect(rung).toContain('42 mayGoToHeat')
})

/** Steps as lines. They know nothing of each other: what rings or is voided is not there. */
function listOf(steps: readonly Step[]): object[] {
  const state = emptyState('REHEARSE', '')
  let atMin = 0
  return steps.map((step, i) => {
    atMin += step.minutes
    const now = START_MS + atMin * MINUTE
    const { at, ...command } = step.make(`h${i}`, { now, state }) as { at?: number }
    return {
      atMin,
      ...command,
      ...(at === undefined ? {} : { happenedAtMin: (at - START_MS) / MINUTE }),
    }
  })
}

describe('any list', () => {
  test('each line of it is printed once, in order of time, and no bell is left', () =>
    fc.assert(
      fc.property(anyHistory, (steps) => {
        const lines = [...rehearse(listOf(steps))]
        const minutes = lines.flatMap((line) => ('atMin' in line ? [line.atMin ?? Number.NaN] : []))
        expect(minutes).toEqual(minutes.toSorted((a, b) => a - b))
        expect(lines.filter((line) => 'ok' in line).length).toBe(steps.length)
        const last = lines.at(-1)
        if (!last || !('state' in last)) throw new Error('no state at the end')
        expect(dueBells(last.state, Number.POSITIVE_INFINITY)).toEqual([])
        const rung = Object.values(last.state.things.bell)
          .flatMap((bell) => bell.entries)
          .filter((entry) => entry.type === 'BellRang')
        expect(rung.length).toBe(bells(lines).length)
      }),
      { numRuns: runs(40) },
    ))

  test('nothing that JSON can be ends it early', () => {
    fc.assert(
      fc.property(fc.array(fc.jsonValue()), (list) => {
        const lines = [...rehearse(list)]
        expect(lines.length).toBe(list.length + 1)
        expect(lines.at(-1)).toMatchObject({ state: { head: 0 } })
      }),
      { numRuns: runs(100) },
    )
  })
})
