import { useSignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import { airOf, readingsOf } from '../../machines/climate/fold.ts'
import { rangeIn } from '../../machines/climate/range.ts'
import { defaultZone } from '../../machines/climate/zones.ts'
import { COMMANDS } from '../../machines/commands.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { Form } from '../forms/form.tsx'
import { useRangeText } from '../lanes/noAir.tsx'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Choice, PageHead, worded } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import { setupIn } from '../words/setupIn.ts'
import { NotClear } from './notClear.tsx'
import { RANGE, READING } from './reading.ts'

/** The air of a zone as a person reads it: three fields with the last values offered, for one touch. */
export function Air({ kiosk, rest: [asked, first] }: ViewProps) {
  const { state, words } = useShop()
  const picked = useSignal(asked ?? null)
  if (!state.value) return <p class="minor">…</p>
  const shop = state.value
  const { screens, zones: names } = words.value
  const setup = setupIn(words.value)
  const zone = picked.value ?? defaultZone(shop)
  const nameOf = (one: string) => zoneWord(shop, names, one)
  const zones = [...new Set([zone, ...knownZones(shop)])]
  return (
    <div class="stack air">
      <PageHead title={setup.airOf(nameOf(zone))} back={screens.wall} backTo={hashOf('wall')}>
        {first !== 'range' && (
          <span class="on-phone">
            <a class="button" data-act="dayRange" href={hashOf('air', zone, 'range')}>
              {words.value.range.say}
            </a>
          </span>
        )}
      </PageHead>
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
      <NotClear state={shop} zone={zone} now={kiosk.reading.value.nowMs} />
      <Both
        key={`${zone} ${first}`}
        state={shop}
        zone={zone}
        now={kiosk.reading.value.nowMs}
        isRange={first === 'range'}
      />
    </div>
  )
}

type ReadProps = { readonly state: State; readonly zone: string; readonly now: number }

const toWall = () => {
  location.hash = hashOf('wall')
}

/** The reading and the day's range: first what was asked for, or what the zone was told last. */
function Both({ isRange, ...props }: ReadProps & { readonly isRange: boolean }) {
  const { readings, ranges = [] } = airOf(props.state, props.zone)
  const rangeFirst = useMemo(() => isRange || (readings.length === 0 && ranges.length > 0), [])
  const parts = [<Read key="read" {...props} />, <Range key="range" {...props} />]
  return <div class="air-two">{rangeFirst ? parts.toReversed() : parts}</div>
}

/** Between what the air stays today, with what was said last offered: one touch where it is as yesterday. */
function Range({ state, zone, now }: ReadProps) {
  const { words, format } = useShop()
  const setup = setupIn(words.value)
  const textOf = useRangeText()
  const last = useMemo(() => airOf(state, zone).ranges?.at(-1), [])
  const holds = rangeIn(state, zone, now)
  return (
    <section class="framed stack" data-part="range">
      <h2>{setup.dayRange}</h2>
      <p class="minor">
        {holds
          ? words.value.range.holds(textOf(holds), format.value.timeAndDay(holds.untilMs, now))
          : setup.rangeWhy}
      </p>
      <Form
        name={`range.${zone}.${last?.at ?? ''}`}
        fields={RANGE}
        original={last ?? undefined}
        schema={COMMANDS.SetDayRange}
        complete={(value) => ({ ...value, zone })}
        type="SetDayRange"
        data={(value) => value}
        now={now}
        word={setup.setRange}
        onSaved={toWall}
      />
    </section>
  )
}

function Read({ state, zone, now }: ReadProps) {
  const { words, format } = useShop()
  const setup = setupIn(words.value)
  // What a sensor says meanwhile takes away nothing that was typed.
  const last = useMemo(() => readingsOf(state, zone).at(-1), [])
  return (
    <section class="framed stack" data-part="reading">
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
        onSaved={toWall}
      />
    </section>
  )
}
