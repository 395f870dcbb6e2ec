import type { CommandInput } from '../../machines/commands.ts'

/** The commands that a lane offers. */
export type ActType =
  | 'StartCoat'
  | 'ContinueCoat'
  | 'FinishCoat'
  | 'BreakOffCoat'
  | 'InspectCoat'
  | 'ReadFilm'
  | 'SetAirMovers'
  | 'ReachCover'
  | 'AbradePanel'
  | 'DenibPanel'
  | 'DoPrepStep'
  | 'StartCure'
  | 'ReadPart'
  | 'EndCure'
  | 'PassPanel'

/** Something that one touch does: its words, and the command that it sends. */
export type Act = ActOf<ActType>
export type ActOf<T extends ActType> = ActWords &
  {
    [One in T]: { readonly type: One; readonly data: CommandInput<One> }
  }[T]

export type ActWords = {
  readonly key: string
  readonly label: string
  readonly small?: string
  /** What is expected next: drawn first and largest. */
  readonly isMain?: boolean
  /** Whether an override may be asked for when it is refused. */
  readonly mayOverride?: boolean
  /** What was done with a stored mix, said with the same touch. */
  readonly checks?: CommandInput<'CheckCup'>
  /** What the shop says with the same touch, once for the sheet. */
  readonly figure?: CommandInput<'SetShopFigure'>
  /** How many minutes ago it happened. */
  readonly agoMin?: number
  /** Where it is shown: among the main buttons, after them (sanding between coats), or folded away. */
  readonly group?: 'ago' | 'sand' | 'more' | 'inspect'
}

type Ask = <T extends 'CheckCup' | 'SetShopFigure'>(
  type: T,
  datas: readonly CommandInput<T>[],
) => Promise<boolean>

/** Sends what is said with the same touch before the act itself. @returns whether all was taken */
export async function saidBefore(
  { checks, figure }: Pick<ActWords, 'checks' | 'figure'>,
  all: Ask,
) {
  if (figure && !(await all('SetShopFigure', [figure]))) return false
  return checks ? await all('CheckCup', [checks]) : true
}
