import type { ReadonlySignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import { readingsOf, surfacesOf } from '../../machines/climate/fold.ts'
import { STALE_MS } from '../../machines/clock/line.ts'
import { dewPointC } from '../../machines/clock/moistAir.ts'
import { PART_HOLD_MS } from '../../machines/panel/climate.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { atMoments, type Moment } from '../lanes/moment.ts'

/** The zone that a Wall shows in its head: the one that coats are sprayed in. */
const HEAD_ZONE = 'booth'

/** The air of the head's zone, of those things that change only with a reading or as one grows old. */
function headAir(state: State, moment: Moment) {
  const zones = Object.keys(state.things.zone)
  const zone = zones.includes(HEAD_ZONE) ? HEAD_ZONE : zones[0]
  if (zone === undefined) return null
  const readings = readingsOf(state, zone)
  const air = readings.findLast(({ at }) => moment.isPast(at))
  if (!air) return null
  const surface = surfacesOf(readings).findLast(({ at }) => moment.isPast(at))
  return {
    zone: state.things.zone[zone]?.context.spec?.name ?? zone,
    air,
    surfaceC: surface && !moment.isPast(surface.at + PART_HOLD_MS) ? surface.partC : null,
    isOld: moment.isPast(air.at + STALE_MS),
  }
}

/** Air of the booth, its dew point and how far the surface lies above it; or that nothing is known. */
export function ClimateLine({ now }: { now: ReadonlySignal<number> }) {
  const { state, words, format } = useShop()
  const head = useMemo(
    () => atMoments(now, (moment) => state.value && headAir(state.value, moment)),
    [now, state],
  ).value
  if (!state.value) return null
  const { wall } = words.value
  if (!head) return <p class="climate minor">{wall.noClimate}</p>
  const { zone, air, surfaceC, isOld } = head
  const dew = air.rh > 0 ? dewPointC(air.airC, air.rh) : null
  return (
    <p class="climate minor">
      {zone}{' '}
      <b>
        {format.value.temperature(air.airC)} · {format.value.humidity(air.rh)}
      </b>
      {dew !== null && (
        <>
          {' '}
          · {wall.dewPoint} <b>{format.value.temperature(dew)}</b>
        </>
      )}
      {dew !== null && surfaceC !== null && (
        <> · {wall.surfaceOver(`${format.value.degrees(surfaceC - dew)}`)}</>
      )}
      {isOld && <b> · {wall.blind}</b>}
    </p>
  )
}
