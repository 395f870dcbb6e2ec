import { contextOf, type State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import type { Lane } from './lanes.ts'

/** Ways out of a refusal that lead to the Bench, or to a clean gun. */

/** The way to the Bench, where what is missing goes into the cup. */
export function PourRight({ cup }: { cup: string | undefined }) {
  const { bench } = useWords()
  if (cup === undefined) return null
  return (
    <a class="button main" data-act="pour" href={`#/cups/${cup}/pour`}>
      {bench.pourIt}
    </a>
  )
}

/** A gun that is named holds something else: cleaned, what was refused can be pressed again. */
export function CleanFirst({
  state,
  guns,
  now,
  onTaken,
}: {
  readonly state: State
  readonly guns: readonly string[]
  readonly now: number
  readonly onTaken: () => void
}) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
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
export function MixFirst({
  state,
  of,
}: {
  state: State
  of: { sheet: string | null; job: string | null }
}) {
  const { words } = useShop()
  if (of.sheet === null) return null
  const sheet = contextOf(state, 'sheet', of.sheet)?.versions.at(-1)?.sheet
  return (
    <a class="button main" href={hashOf('bench', of.sheet, ...(of.job === null ? [] : [of.job]))}>
      {words.value.act.mixFor(sheet?.name ?? of.sheet)}
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
