import type { State } from '../../machines/state.ts'
import { useWords } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import type { Lane } from './lanes.ts'
import { zoneWord } from './zones.ts'

type Props = { readonly state: State; readonly lanes: readonly Lane[] }

/** Which zone no reading came from, and the two ways on: read its air, or say where the panel really is. */
export function NoAir({ state, lanes }: Props) {
  const { board, jobs } = useWords()
  const blind = lanes.find((lane) => lane.isBlind)
  if (!blind) return null
  return (
    <div class="acts no-air">
      <p>{board.noAirIn(zoneWord(state, jobs.zones, blind.zone))}</p>
      <a class="button" data-act="readAir" href={hashOf('air', blind.zone)}>
        {board.readAir}
      </a>
      <a class="button" data-act="move" href={hashOf('jobs', blind.job, 'panel', blind.panel)}>
        {board.moveIt}
      </a>
    </div>
  )
}

/** What forbade is read again: the zone's air, with the surface where it was the surface. */
export function ReadAir({ state, lanes }: Props) {
  const { board, jobs } = useWords()
  const zones = [...new Set(lanes.map(({ zone }) => zone))]
  return (
    <>
      {zones.map((zone) => (
        <a key={zone} class="button main" data-act="readAir" href={hashOf('air', zone)}>
          <span>
            {board.readAir}
            <small>{zoneWord(state, jobs.zones, zone)}</small>
          </span>
        </a>
      ))}
    </>
  )
}
