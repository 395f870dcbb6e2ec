import { useEffect } from 'preact/hooks'
import { isPresent } from '../../machines/people/fold.ts'
import type { State } from '../../machines/state.ts'
import { isChoosing, WHO_KEPT, who } from '../commands/queuedCommand.ts'
import { useShop } from '../commands/shop.ts'
import type { Settings } from '../device/settings.ts'
import { again } from '../ui/again.ts'
import { later } from '../ui/screen.tsx'

/** Opened by a touch: fetched then. */
const WhoDialog = later(async () => (await again(() => import('./whoDialog.tsx'))).WhoDialog)

type Props = { readonly state: State; readonly settings: Settings }

const peopleOf = (state: State) =>
  Object.entries(state.things.person)
    .map(([id, thing]) => ({ id, person: thing.context }))
    .filter(({ person }) => isPresent(person))

/** Who presses on this kiosk, once the shop knows people: one touch, large names. */
export function Who({ state, settings }: Props) {
  const { words } = useShop()
  const people = peopleOf(state)
  const here = people.find(({ id }) => id === who.value)
  useEffect(() => {
    who.value = settings.kept(WHO_KEPT)
  }, [])
  // The only person in the shop is not asked for; once there are more, each says it.
  const only = people.length === 1 ? people[0]?.id : undefined
  useEffect(() => {
    if (only !== undefined && who.value === null) who.value = only
    return () => {
      if (only !== undefined && settings.kept(WHO_KEPT) === null) who.value = null
    }
  }, [only])
  // Who has left the shop presses here no longer.
  const isGone = who.value !== null && here === undefined
  useEffect(() => {
    if (isGone) who.value = null
  }, [isGone])
  if (people.length === 0) return null
  const { board } = words.value
  const back = () => {
    isChoosing.value = false
  }
  const choose = (id: string | null) => {
    who.value = id
    settings.keep(WHO_KEPT, id)
    back()
  }
  return (
    <>
      <button
        type="button"
        class="who-button"
        aria-haspopup="dialog"
        onClick={() => {
          isChoosing.value = true
        }}
      >
        {here?.person.name ?? board.who}
      </button>
      {isChoosing.value && <WhoDialog people={people} onChoose={choose} onBack={back} />}
    </>
  )
}
