import { ratioText } from '../../labels/code.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import type { CupContents, CupContext } from '../../machines/cup/machine.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** What has to be written on a cup whose label does not print. Pure. */
export type HandCopy = {
  readonly id: string
  readonly name: string
  readonly ratio: string
  readonly by: 'volume' | 'mass'
  /** Null for a mix without pot life. */
  readonly useByMs: number | null
  readonly keepUntilMs: number | null
  readonly hazards: NonNullable<Sheet['hazards']> | null
  /** How many labels were printed after the first. */
  readonly copies: number
}

/** The sheet by which a cup was mixed. */
export function sheetOfCup(state: State, cup: CupContents): Sheet | undefined {
  const versions = contextOf(state, 'sheet', cup.sheet)?.versions ?? []
  return (versions.find((v) => v.version === cup.sheetVersion) ?? versions.at(-1))?.sheet
}

/**
 * @param cup as the state holds it, or as it will when the server hears of it
 * @param more the word after the count of a ratio's parts that are left out
 */
export function handCopyOf(state: State, id: string, cup: CupContext, more: string): HandCopy {
  const print = cup.prints.at(-1)
  const useByMs = print ? print.untilMs : cupEndsAt(state, cup)
  return {
    id,
    name: cup.name,
    ratio: ratioText(cup.ratio, more),
    by: cup.by,
    useByMs,
    keepUntilMs: useByMs === null ? cup.keepUntilMs : null,
    hazards: sheetOfCup(state, cup)?.hazards ?? null,
    copies: Math.max(0, cup.prints.length - 1),
  }
}
