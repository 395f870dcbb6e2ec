import { useWords } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import type { Lane } from './lanes.ts'
import type { PassAct } from './pass.ts'

type Props = { readonly lane: Lane | undefined; readonly acts: readonly PassAct[] }

/** A cure is due, and the sheet of what is on the panel knows none: the step is skipped or changed. */
export function NoCure({ lane, acts }: Props) {
  const { board } = useWords()
  const isHeat = lane?.waits.for === 'heat' || lane?.waits.for === 'heatFlash'
  if (!lane || !isHeat || acts.some(({ type }) => type === 'StartCure')) return null
  return (
    <div class="acts" data-no-way="noCure">
      <p class="sentence">{board.noCure}</p>
      <a class="button main" href={hashOf('jobs', lane.job, 'panel', lane.panel)}>
        {board.skipOrChange}
      </a>
    </div>
  )
}
