import { CLEARED_BY } from '../../machines/climate/context.ts'
import { unclearedZones } from '../../machines/panel/breathing.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { zoneWord } from '../lanes/zones.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import { actsIn } from '../words/acts.ts'

type Props = { readonly state: State; readonly zone: string; readonly now: number }

/** How a zone without a clearance time was found to be clear, or where to type that time. */
export function NotClear({ state, zone, now }: Props) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const { zones } = words.value
  const text = actsIn(words.value)
  const isOpen = unclearedZones(state).some((one) => one.zone === zone && one.clearanceMin === null)
  if (!isOpen) return null
  return (
    <section class="stack" data-part="notClear">
      <p>{text.notClear(zoneWord(state, zones, zone))}</p>
      <div class="acts">
        {CLEARED_BY.map((how) => (
          <Press key={how} act={how} onPress={() => ask('ClearZone', { zone, how })}>
            {text.clearedBy[how]}
          </Press>
        ))}
        <a class="button" data-act="setClearance" href={hashOf('setup', 'zones', zone)}>
          {text.setClearance}
        </a>
      </div>
      <Answer sending={sending.value} now={now} />
    </section>
  )
}
