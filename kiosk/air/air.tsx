import { useSignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import { readingsOf } from '../../machines/climate/fold.ts'
import { defaultZone } from '../../machines/climate/zones.ts'
import { COMMANDS } from '../../machines/commands.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { Form } from '../forms/form.tsx'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Choice, PageHead, worded } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import { READING } from './reading.ts'

/** The air of a zone as a person reads it: three fields with the last values offered, for one touch. */
export function Air({ kiosk, rest: [asked] }: ViewProps) {
  const { state, words } = useShop()
  const picked = useSignal(asked ?? null)
  if (!state.value) return <p class="minor">…</p>
  const shop = state.value
  const { setup, jobs, screens } = words.value
  const zone = picked.value ?? defaultZone(shop)
  const nameOf = (one: string) => zoneWord(shop, jobs.zones, one)
  const zones = [...new Set([zone, ...knownZones(shop)])]
  return (
    <div class="stack air">
      <PageHead title={setup.airOf(nameOf(zone))} back={screens.wall} backTo={hashOf('wall')} />
      {zones.length > 1 && (
        <Choice
          name="zone"
          options={worded(zones, nameOf)}
          picked={zone}
          onPick={(one) => {
            picked.value = one
          }}
        />
      )}
      <Read key={zone} state={shop} zone={zone} now={kiosk.reading.value.nowMs} />
    </div>
  )
}

type ReadProps = { readonly state: State; readonly zone: string; readonly now: number }

function Read({ state, zone, now }: ReadProps) {
  const { words, format } = useShop()
  const { setup } = words.value
  // What a sensor says meanwhile takes away nothing that was typed.
  const last = useMemo(() => readingsOf(state, zone).at(-1), [])
  return (
    <>
      <p class="minor">
        {last ? setup.lastAir(format.value.timeAndDay(last.at, now)) : setup.noAir}
      </p>
      <Form
        name={`air.${zone}.${last?.at ?? ''}`}
        fields={READING}
        original={last ?? undefined}
        schema={COMMANDS.ReadClimate}
        complete={(value) => ({ ...value, zone })}
        type="ReadClimate"
        data={(value) => value}
        now={now}
        word={setup.read}
        onSaved={() => {
          location.hash = hashOf('wall')
        }}
      />
    </>
  )
}
