import { useSignal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { POSITION } from '../device/level.ts'
import type { Settings } from '../device/settings.ts'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Choice } from '../ui/choice.tsx'

/**
 * The work position of this kiosk: a bell of that position sounds here at once, others only when
 * nobody answers them. Every bell is shown everywhere.
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
        word={setup.positionWhy}
        picked={picked.value}
        options={['', ...zones].map((zone) => ({
          value: zone,
          word: zone === '' ? setup.wholeShop : zoneWord(shop, jobs.zones, zone),
        }))}
        onPick={(zone) => {
          picked.value = zone
          settings.keep(POSITION, zone === '' ? null : zone)
        }}
      />
    </section>
  )
}
