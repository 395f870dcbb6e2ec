import type { Sheet } from '../../machines/sheet/schema.ts'
import { type Proposal, proposalOf } from '../lanes/activatorProposal.ts'

/** In a choice that is proposed: none of what is offered. */
export const NONE = '-'

export type OptionChoice = Proposal & {
  readonly picked: string
  /** Nobody chose, and nothing is proposed in this air: it must be said before the cup is mixed. */
  readonly isAsked: boolean
}

/** As a form shows it: the name, that it is none, or nothing where it is still to be said. */
export const shownOption = ({ picked, isAsked }: OptionChoice): string =>
  isAsked ? '' : picked || NONE

/** @param isPoured then nothing is proposed any more */
export function choiceOf(
  options: Sheet['activators'],
  picked: string,
  isPoured: boolean,
  nowC: number,
  warmestC: number,
): OptionChoice {
  if (options.length === 0)
    return { option: null, warmestC, suitsNow: false, picked: '', isAsked: false }
  const proposal = proposalOf(options, nowC, warmestC)
  const own = isPoured ? picked : picked || (proposal.option?.name ?? '')
  return { ...proposal, picked: own === NONE ? '' : own, isAsked: own === '' }
}
