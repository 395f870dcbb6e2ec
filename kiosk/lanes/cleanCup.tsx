import { useSignal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import { isTaken, thingId } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { fromHere } from '../ui/here.ts'
import { Fold } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/cleanCup.ts'
import { useOwnWords } from '../words/words.ts'
import { gunLines, mayPourOut } from './gunLines.ts'

/** What is left in a gun as a painter sees it, mL: an estimate by the marks of a gun's cup. Common practice, no source. */
const AMOUNTS_ML: readonly number[] = [30, 50, 100, 150, 200, 300, 500]

type Props = {
  readonly state: State
  readonly gun: string
  readonly now: number
  /** Shown where the gun itself is not: by the cup that it was loaded from. */
  readonly isNamed?: boolean
}

/** What is left in a gun whose cup is gone: one touch says how much, then its label is printed. */
export function IntoCleanCup({ state, gun: id, now, isNamed = false }: Props) {
  const say = useOwnWords(own)
  const { format } = useShop()
  const { sending, ask, again } = useCommands()
  const made = useSignal('')
  const gun = gunLines(state).find((one) => one.id === id)
  if (!gun || !mayPourOut(gun, now)) return null
  const toLabel = async (pouring: Promise<boolean>) => {
    const isHere = fromHere()
    if ((await pouring) && isHere()) location.hash = hashOf('cups', made.value)
  }
  const pour = async (ml: number) => {
    made.value = thingId()
    return isTaken(await ask('PourBack', { gun: id, cup: made.value, ml, cleanCup: true }))
  }
  return (
    <Fold word={isNamed ? say.fromGun(gun.name) : say.into} act="cleanCup">
      <p class="sentence">
        {say.howMuch}
        {gun.endsAt !== null && ` ${say.ends(format.value.timeAndDay(gun.endsAt, now))}`}
      </p>
      <div class="acts">
        {AMOUNTS_ML.map((ml) => (
          <Press
            key={ml}
            act={`clean-${ml}`}
            isOff={sending.value.busy}
            onPress={() => void toLabel(pour(ml))}
          >
            {format.value.volume(ml)}
          </Press>
        ))}
      </div>
      <Answer
        sending={sending.value}
        now={now}
        onOverride={(reason) => void toLabel(again(reason))}
      />
    </Fold>
  )
}
