import { useSignal } from '@preact/signals'
import { knownZones } from '../jobs/plan.ts'
import { zoneWord } from '../jobs/zoneChoice.tsx'
import type { Settings } from '../settings.ts'
import { Choice } from '../shop/choice.tsx'
import { useShop } from '../shop/context.ts'
import { POSITION } from './level.ts'

/**
 * Which work position this kiosk stands at: a bell sounds there at once, on the others when nobody
 * answers (HUMAN 1.5). Shown it is everywhere.
 */
export function Position({ settings }: { settings: Settings }) {
  const { state, words } = useShop()
  const picked = useSignal(settings.kept(POSITION) ?? '')
  const { setup, jobs } = words.value
  if (!state.value) return null
  const shop = state.value
  const zones = [...new Set([...knownZones(shop), picked.value].filter((zone) => zone !== ''))]
  return (
    <section class="stack">
      <h2>{setup.position}</h2>
      <Choice
        name={setup.positionWhy}
        picked={picked}
        options={['', ...zones].map((zone) => ({
          value: zone,
          word: zone === '' ? setup.wholeShop : zoneWord(shop, jobs.zones, zone),
        }))}
        onPick={(zone) => settings.keep(POSITION, zone === '' ? null : zone)}
      />
    </section>
  )
}
