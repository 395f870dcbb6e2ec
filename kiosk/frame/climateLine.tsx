import { readingsOf, surfacesOf } from '../../machines/climate/fold.ts'
import { lastBefore, STALE_MS } from '../../machines/clock/line.ts'
import { dewPointC } from '../../machines/clock/moistAir.ts'
import { PART_HOLD_MS } from '../../machines/panel/climate.ts'
import { useShop } from '../commands/shop.ts'

/** The zone that a Wall shows in its head: the one that coats are sprayed in. */
const HEAD_ZONE = 'booth'

/** Air of the booth, its dew point and how far the surface lies above it; or that nothing is known. */
export function ClimateLine({ now }: { now: number }) {
  const { state, words, format } = useShop()
  if (!state.value) return null
  const { wall } = words.value
  const zones = Object.keys(state.value.things.zone)
  const zone = zones.includes(HEAD_ZONE) ? HEAD_ZONE : zones[0]
  const readings = zone === undefined ? [] : readingsOf(state.value, zone)
  const air = lastBefore(readings, now)
  if (zone === undefined || !air) return <p class="climate minor">{wall.noClimate}</p>
  const dew = air.rh > 0 ? dewPointC(air.airC, air.rh) : null
  const surface = lastBefore(surfacesOf(readings), now)
  const isFresh = surface !== undefined && now - surface.at < PART_HOLD_MS
  return (
    <p class="climate minor">
      {(state.value.things.zone[zone]?.context as { spec: { name?: string } | null } | undefined)
        ?.spec?.name ?? zone}{' '}
      <b>
        {format.value.temperature(air.airC)} · {format.value.humidity(air.rh)}
      </b>
      {dew !== null && (
        <>
          {' '}
          · {wall.dewPoint} <b>{format.value.temperature(dew)}</b>
        </>
      )}
      {dew !== null && isFresh && (
        <> · {wall.surfaceOver(`${format.value.degrees(surface.partC - dew)}`)}</>
      )}
      {now - air.at >= STALE_MS && <b> · {wall.blind}</b>}
    </p>
  )
}
