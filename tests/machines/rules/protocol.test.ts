import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { COMMANDS } from '../../../machines/commands.ts'
import { PROTOCOL, parseCommand } from '../../../machines/contract.ts'
import { BASE_CLEAR, DOOR, JOB } from '../../support/given.ts'
import { saidWrong } from '../../support/said.ts'

/** Commands of earlier protocols are taken as they were meant; of later ones nothing is guessed. */

const [BASE_STEP] = BASE_CLEAR
const route = (coats: unknown) => [{ ...BASE_STEP, coats }]
const panel = (coats: unknown) => ({
  ...{ job: JOB, panel: DOOR, name: 'Rear door', operation: 'repair' },
  route: route(coats),
})
const parsed = (input: object) => {
  const answer = parseCommand({ id: 'c1', ...input })
  if (!answer.ok) throw new Error(JSON.stringify(answer.errors))
  return answer.value
}
const errorOf = (input: object) => {
  const answer = parseCommand({ id: 'c1', ...input })
  if (answer.ok) throw new Error(`accepted: ${JSON.stringify(answer.value)}`)
  return { ...saidWrong(answer.error), count: answer.errors.length }
}

describe('a command of the first protocol', () => {
  test.each([
    ['AddPanel', panel],
    ['SetRoute', (coats: unknown) => ({ panel: DOOR, route: route(coats) })],
  ])('%s that gives the planned coats as a number means what it meant', (type, data) => {
    const today = parsed({ type, protocol: PROTOCOL, data: data({ planned: 2 }) })
    expect(parsed({ type, data: data(2) })).toEqual(today)
    expect(parsed({ type, protocol: 1, data: data(2) })).toEqual(today)
    expect(today).toMatchObject({ protocol: PROTOCOL })
  })

  test('means the same in the replacement of what is voided', () => {
    const voiding = (coats: unknown) => ({
      entry: 'c0.0',
      reason: 'MISTAP',
      replace: { type: 'SetRoute', data: { panel: DOOR, route: route(coats) } },
    })
    const today = parsed({ type: 'VoidEntry', protocol: PROTOCOL, data: voiding({ planned: 2 }) })
    expect(parsed({ type: 'VoidEntry', data: voiding(2) })).toEqual(today)
  })

  test('that names no protocol but is in today’s shape is taken as it is', () => {
    const data = panel({ least: 1, planned: 2, most: 4 })
    expect(parsed({ type: 'AddPanel', data })).toEqual(
      parsed({ type: 'AddPanel', protocol: PROTOCOL, data }),
    )
  })

  test('with a number of coats that cannot be is wrong in that number', () => {
    expect(errorOf({ type: 'AddPanel', data: panel(30) })).toMatchObject({
      field: 'data.route.0.coats.planned',
      message: "data.route.0.coats.planned: 30 won't work. Use a whole number from 1 to 20.",
    })
  })
})

test('a number of coats is not of today’s protocol', () => {
  expect(errorOf({ type: 'AddPanel', protocol: PROTOCOL, data: panel(2) })).toMatchObject({
    code: 'object',
    field: 'data.route.0.coats',
  })
})

test('of a command of a newer protocol only that is said, whatever else it has', () => {
  const newer = { protocol: PROTOCOL + 1, type: 'SendDrone', mood: 'fine', data: [1] }
  expect(errorOf(newer)).toEqual({
    code: 'newestProtocol',
    field: 'protocol',
    params: { protocol: PROTOCOL, given: `${PROTOCOL + 1}` },
    message: `protocol: ${PROTOCOL + 1} won't work. Use protocol ${PROTOCOL} or older.`,
    count: 1,
  })
})

test.each([[0], [-1], [1.5], ['2'], [null], [{}]])('a protocol %j is not one', (protocol) => {
  expect(errorOf({ type: 'PauseJob', protocol, data: { job: JOB } })).toMatchObject({
    code: 'whole',
    field: 'protocol',
  })
})

test('whatever comes in the place of an old command is answered, never thrown', () => {
  const json = fc.jsonValue({ maxDepth: 4 })
  fc.assert(
    fc.property(
      fc.constantFrom(...Object.keys(COMMANDS)),
      fc.oneof(
        json,
        fc.record({ route: json, replace: json }),
        fc.record({ route: fc.array(fc.record({ coats: json })) }),
        fc.record({ replace: fc.record({ type: fc.constant('AddPanel'), data: json }) }),
      ),
      (type, data) => {
        const input = { id: 'c1', type, data }
        const before = JSON.stringify(input)
        parseCommand(input)
        expect(JSON.stringify(input)).toBe(before)
      },
    ),
  )
})
