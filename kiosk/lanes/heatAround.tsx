import { useSignal } from '@preact/signals'
import { purgeMinOf } from '../../machines/climate/neighbors.ts'
import { activatedIn, limitsIn, unaskedIn, type VehicleLimit } from '../../machines/panel/inHeat.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { heatText } from '../units/heat.ts'
import { heatIn } from '../words/heat.ts'

type Props = { readonly state: State; readonly zone: string; readonly now: number }

/** What vehicles usually take, °C: offered, never assumed. Common practice, no source. */
const USUAL_C: readonly number[] = [60, 70, 80]

/** Asks for the limits of vehicles in the zone that nobody has entered yet: a bake heats all of them. */
export function LimitsFirst({ state, zone, now }: Props) {
  return unaskedIn(state, zone).map((one) => (
    <Limit key={one.job} state={state} one={one} now={now} />
  ))
}

/** The limits of the vehicles in the zone of a bake, and the cups and guns whose time runs faster there. */
export function HeatAround({ state, zone, now }: Props) {
  const { words } = useShop()
  const text = heatIn(words.value)
  const limits = limitsIn(state, zone).filter(({ limitC }) => limitC !== undefined)
  const { sending, ask } = useCommands()
  const minutes = purgeMinOf(state, zone)
  const things = activatedIn(state, zone)
  return (
    <section class="heat-around" data-heat-around={zone}>
      <h3>{text.title}</h3>
      {limits.map((one) => (
        <Limit key={one.job} state={state} one={one} now={now} />
      ))}
      <div class="acts">
        <Press
          act="purge"
          isOff={sending.value.busy || minutes === 0}
          onPress={() => ask('PurgeZone', { zone, minutes })}
        >
          {text.purge(minutes)}
        </Press>
        <Answer sending={sending.value} now={now} />
      </div>
      {things.length > 0 && <p class="sentence">{text.faster(things.join(', '))}</p>}
    </section>
  )
}

function Limit({ state, one, now }: Omit<Props, 'zone'> & { readonly one: VehicleLimit }) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const isChanging = useSignal(false)
  const text = heatIn(words.value)
  const { units } = settingsOf(state)
  const { job, title, limitC } = one
  const isAsked = limitC === undefined || isChanging.value
  const set = (maxC: number | null) => {
    isChanging.value = false
    return ask('SetHeatLimit', { job, maxC })
  }
  return (
    <div class="acts" data-limit={limitC === undefined ? 'unasked' : (limitC ?? 'none')}>
      <p>
        <b>{title}</b>
        {': '}
        {limitC === undefined
          ? text.ask
          : limitC === null
            ? text.noLimit
            : text.limit(heatText(limitC, units))}
      </p>
      {isAsked ? (
        <>
          {USUAL_C.map((maxC) => (
            <Press key={maxC} act={`limit-${maxC}`} onPress={() => set(maxC)}>
              {text.is(heatText(maxC, units))}
            </Press>
          ))}
          <Press act="limit-none" onPress={() => set(null)}>
            {text.notKnown}
          </Press>
        </>
      ) : (
        <Press
          act="limit-change"
          onPress={() => {
            isChanging.value = true
          }}
        >
          {text.change}
        </Press>
      )}
      <Answer sending={sending.value} now={now} />
    </div>
  )
}

/** A hot part that was measured cool: one touch. */
export function PartIsCool({
  panels,
  now,
  onTaken,
}: {
  readonly panels: readonly string[]
  readonly now: number
  readonly onTaken: () => void
}) {
  const { words, state } = useShop()
  const { sending, all } = useCommands()
  const units = state.value ? settingsOf(state.value).units : undefined
  const cool = async () => {
    const datas = panels.map((panel) => ({ panel, partC: 35 }))
    if (await all('ReadPart', datas)) onTaken()
  }
  return (
    <>
      <Press act="partCool" isMain onPress={cool}>
        {heatIn(words.value).isCool(heatText(35, units))}
      </Press>
      <Answer sending={sending.value} now={now} />
    </>
  )
}
