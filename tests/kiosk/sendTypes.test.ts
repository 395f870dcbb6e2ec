import { expect, test } from 'vitest'
import type { useCommands } from '../../kiosk/commands/useCommands.ts'
import type { CommandInput, CommandType, Misspelt } from '../../machines/commands.ts'
import { checkInput } from '../../machines/commands.ts'

/**
 * The compiler holds what a kiosk may send: each of these lines is `true`, or this file does not
 * compile. `Takes` is the condition that the compiler sets for `ask` of a kiosk's pages.
 */
type Takes<T extends CommandType, D> = D extends CommandInput<T> & Misspelt<T, D> ? true : false

/** Data that is spread into more data, as the forms do with what may be left out. */
type Spread<A, B> = Omit<A, keyof B> & B

type Load = { readonly gun: string; readonly cup: string }
type Coat = { readonly panels: readonly string[]; readonly cup: string }
type Override = { readonly override: { readonly reason: string } }

const COMPILES: readonly [
  Takes<'LoadGun', Load>,
  Takes<'LoadGun', Spread<Load, { needleMm?: number }>>,
  Takes<'LoadGun', Spread<Load, Override>>,
  Takes<'StartCoat', Coat>,
  Takes<'StartCoat', Spread<Coat, { kind: 'blend' }>>,
  Takes<'EmptyCup', { cup: string; how: 'used' }>,
  // Left out, it is where new panels stand.
  Takes<'AddPanel', { job: string; panel: string; name: string; operation: 'repair'; route: [] }>,
] = [true, true, true, true, true, true, true]

const REFUSED: readonly [
  // A misspelt field in place of the right one, beside it, and spread where it may be left out.
  Takes<'LoadGun', { gun: string; cub: string }>,
  Takes<'LoadGun', Spread<Load, { needelMm: number }>>,
  Takes<'LoadGun', Spread<Load, { needelMm?: number }>>,
  // A field of another command, and an override where none may be given.
  Takes<'FinishCoat', Spread<Coat, { grit: number }>>,
  Takes<'EmptyCup', Spread<{ cup: string; how: 'used' }, Override>>,
  // One that is missing, of another kind, or another word than the ones that there are.
  Takes<'StartCoat', Omit<Coat, 'cup'>>,
  Takes<'StartCoat', { panels: string; cup: string }>,
  Takes<'ReadPart', { panel: string; partC: string }>,
  Takes<'EmptyCup', { cup: string; how: 'thrown' }>,
  Takes<'LoadGun', object>,
] = [false, false, false, false, false, false, false, false, false, false]

/** `ask` itself sets that condition, so that the lines above are about what the pages call. */
type Ask = ReturnType<typeof useCommands>['ask']
type Asks =
  Ask extends <T extends CommandType, const D extends CommandInput<T>>(
    type: T,
    data: D & Misspelt<T, D>,
  ) => Promise<unknown>
    ? true
    : false
type Loose = Ask extends (type: 'LoadGun', data: Load & { readonly needelMm: number }) => unknown
  ? true
  : false
const OF_ASK: readonly [Asks, Loose] = [true, false]

test('the compiler takes the fields of a command and no others', () => {
  expect([...COMPILES, ...REFUSED, ...OF_ASK]).not.toContain(undefined)
})

test('what was typed and is not a number is answered by the name of its field', () => {
  const data = { panel: 'DRSKN222', partC: 'warm' }
  expect(checkInput('ReadPart', data)).toMatchObject({ ok: false, error: { field: 'data.partC' } })
  expect(checkInput('ReadPart', { ...data, partC: 60 })).toMatchObject({ ok: true })
})
