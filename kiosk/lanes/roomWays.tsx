import { heatedAround, sprayedAround } from '../../machines/panel/room.ts'
import type { State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'

/** The way out where heat and wet paint meet: the heat is ended, or the coat beside it finished. */
export function RoomWays({
  state,
  code,
  zones,
  now,
  onTaken,
}: {
  readonly state: State
  readonly code: 'heatInZone' | 'wetInZone'
  readonly zones: readonly string[]
  readonly now: number
  readonly onTaken: () => void
}) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const isHeat = code === 'heatInZone'
  const around = isHeat ? heatedAround : sprayedAround
  const names = new Map(
    zones.flatMap((zone) => around(state, zone)).map(({ id }) => [id, panelName(state, id)]),
  )
  if (names.size === 0) return null
  const type = isHeat ? 'EndCure' : 'FinishCoat'
  const press = async () => {
    if (isTaken(await ask(type, { panels: [...names.keys()] }))) onTaken()
  }
  return (
    <>
      <Press act={type} isMain onPress={press}>
        <span>
          {isHeat ? words.value.act.endHeat : words.value.act.finish}
          <small>{[...names.values()].join(', ')}</small>
        </span>
      </Press>
      <Answer sending={sending.value} now={now} />
    </>
  )
}
