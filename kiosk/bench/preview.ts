import type { CommandType } from '../../machines/commands.ts'
import { type AnyCommand, PROTOCOL, parseCommand } from '../../machines/contract.ts'
import { type CupContents, type CupContext, newCup } from '../../machines/cup/machine.ts'
import { decide } from '../../machines/decide.ts'
import type { Refusal } from '../../machines/refusals.ts'
import type { State } from '../../machines/state.ts'

/**
 * What a command would make, by the same rules as the server's: to be shown before it is pressed,
 * and where the server cannot say. Pure.
 */
type Preview =
  | { readonly kind: 'cup'; readonly cup: CupContext }
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  | { readonly kind: 'wrong' }

/**
 * The cup that MixCup or PourCup would make.
 * @param at when it happens, UTC ms
 */
export function previewCup(
  state: State,
  type: Extract<CommandType, 'MixCup' | 'PourCup'>,
  data: object,
  at: number,
): Preview {
  const parsed = parseCommand({ id: 'preview', protocol: PROTOCOL, type, data })
  if (!parsed.ok) return { kind: 'wrong' }
  const command: AnyCommand = parsed.value
  const decided = decide(state, command, at)
  if ('refusal' in decided) return { kind: 'refused', refusal: decided.refusal }
  if ('error' in decided) return { kind: 'wrong' }
  const made = decided.drafts.find((draft) => draft.cup === (data as { cup: string }).cup)
  if (!made) return { kind: 'wrong' }
  return {
    kind: 'cup',
    cup: newCup(made.data as CupContents & typeof made.data, made.job ?? null, made.at),
  }
}
