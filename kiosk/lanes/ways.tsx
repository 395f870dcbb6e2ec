import { contextOf, type State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { comingOf } from './coming.ts'
import type { Lane } from './lanes.ts'
import { type PassAct, startsIn } from './pass.ts'

/** Ways out of a refusal that lead to the Bench, or to a clean gun. */

/** The way to the Bench, where what is missing goes into the cup. */
export function PourRight({ acts }: { acts: readonly PassAct[] }) {
  const { bench } = useWords()
  const cup = startsIn(acts)[0]?.cup
  if (cup === undefined) return null
  return (
    <a class="button main" data-act="pour" href={`#/cups/${cup}/pour`}>
      {bench.pourIt}
    </a>
  )
}

/** The gun that a start names holds something else: cleaned, the start can be pressed again. */
export function CleanFirst({
  state,
  acts,
  now,
  onTaken,
}: {
  readonly state: State
  readonly acts: readonly PassAct[]
  readonly now: number
  readonly onTaken: () => void
}) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const guns = startsIn(acts).flatMap(({ gun }) => gun ?? [])
  const clean = async (gun: string) => {
    if (isTaken(await ask('CleanGun', { gun }))) onTaken()
  }
  return (
    <>
      {[...new Set(guns)].map((gun) => (
        <Press key={gun} act="CleanGun" isMain onPress={() => clean(gun)}>
          <span>
            {words.value.act.cleanGun}
            <small>{state.things.gun[gun]?.context.spec?.name ?? gun}</small>
          </span>
        </Press>
      ))}
      <Answer sending={sending.value} now={now} />
    </>
  )
}

/** Where a cup has still to be mixed: the way to the Bench, with the product named. */
export function MixFirst({ state, lane }: { state: State; lane: Lane }) {
  const { words } = useShop()
  const { sheet: id, job } = comingOf(lane)
  if (id === null) return null
  const sheet = contextOf(state, 'sheet', id)?.versions.at(-1)?.sheet
  return (
    <a class="button main" href={`#/bench/${id}/${job}`}>
      {words.value.act.mixFor(sheet?.name ?? id)}
    </a>
  )
}

/** Where the color's cards are measured. */
export function ColourFirst({ lane }: { lane: Lane }) {
  const { jobs } = useWords()
  return (
    <a class="button main" data-way="colour" href={`#/jobs/${lane.job}/colour`}>
      {jobs.colourCheck}
    </a>
  )
}
