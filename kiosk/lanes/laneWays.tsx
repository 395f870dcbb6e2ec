import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import type { Commands } from '../commands/useCommands.ts'
import { saidBefore } from './actTypes.ts'
import { lanesOf } from './lanes.ts'
import { passActs } from './pass.ts'
import { WayOut } from './wayOut.tsx'

type Props = {
  readonly state: State
  /** The panel's id. */
  readonly id: string
  readonly commands: Commands
  readonly now: number
}

/** What was refused on another page than the Wall has the same way out as on the panel's lane. */
export function LaneWays({ state, id, commands, now }: Props) {
  const { words } = useShop()
  const { all, clear, sending } = commands
  const { sent, busy } = sending.value
  const lanes = lanesOf(state, now).filter(({ panel }) => panel === id)
  if (sent?.kind !== 'refused' || lanes.length === 0) return null
  return (
    <WayOut
      {...{ state, lanes, now }}
      // What happened some minutes ago is said on the lane.
      acts={passActs(state, lanes, words.value, now).filter((act) => act.agoMin === undefined)}
      refusal={sent.refusal}
      isBusy={busy}
      onPress={(act) =>
        void saidBefore(act, all).then((isSaid) => isSaid && all(act.type, act.datas))
      }
      onTaken={clear}
    />
  )
}
