import type { CupContext } from '../../machines/cup/machine.ts'
import type { State } from '../../machines/state.ts'
import type { ToldRefusal } from '../commands/refusalText.ts'
import { CleanFirst, MixFirst, PourRight } from './ways.tsx'
import { WAYS } from './waysOut.ts'

type Props = {
  readonly code: ToldRefusal['code']
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly gun: string
  readonly now: number
  /** The gun was cleaned: what was refused may be pressed again. */
  readonly onTaken: () => void
}

/** What to do instead where a cup is not taken into a gun: the way out that the Wall has for a start from it. */
export function CupWay({ code, state, id, cup, gun, now, onTaken }: Props) {
  switch (WAYS[code].by) {
    case 'mix':
      return <MixFirst state={state} of={cup} />
    case 'pour':
      return <PourRight cup={id} />
    case 'cleanGun':
      return <CleanFirst {...{ state, now, onTaken }} guns={[gun]} />
    default:
      return null
  }
}
