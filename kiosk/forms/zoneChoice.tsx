import { useSignal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Choice, worded } from '../ui/choice.tsx'
import { Field } from './fields.tsx'

type Props = {
  readonly state: State
  readonly picked: string | null
  /** Tells this choice's field from others on the page. */
  readonly name: string
  readonly onPick: (zone: string) => void
}

const OTHER = '+'

/** The zone of a panel: one that the shop knows, or one typed in. A zone may be used before it is saved. */
export function ZoneChoice({ state, picked, name, onPick }: Props) {
  const { jobs } = useShop().words.value
  const typed = useSignal('')
  const isTyping = useSignal(false)
  const known = knownZones(state)
  const all = picked === null || known.includes(picked) ? known : [...known, picked]
  return (
    <>
      <Choice
        word={jobs.zone}
        options={worded([...all, OTHER], (zone) =>
          zone === OTHER ? OTHER : zoneWord(state, jobs.zones, zone),
        )}
        picked={isTyping.value ? OTHER : picked}
        onPick={(zone) => {
          isTyping.value = zone === OTHER
          if (zone !== OTHER) onPick(zone)
        }}
      />
      {isTyping.value && (
        <form
          class="older"
          onSubmit={(e) => {
            e.preventDefault()
            if (typed.value.trim() === '') return
            isTyping.value = false
            onPick(typed.value.trim())
          }}
        >
          <Field
            name={`zone-${name}`}
            word={jobs.otherZone}
            value={typed.value}
            onInput={(text) => {
              typed.value = text
            }}
          />
          <button type="submit">OK</button>
        </form>
      )}
    </>
  )
}
