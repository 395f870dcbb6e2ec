import { type ReadonlySignal, useComputed } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import { hasRung } from '../../machines/bell/fold.ts'
import { readingsOf, surfacesOf } from '../../machines/climate/fold.ts'
import { defaultZone } from '../../machines/climate/zones.ts'
import { STALE_MS } from '../../machines/clock/line.ts'
import { dewPointC } from '../../machines/clock/moistAir.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { Breathing } from '../../machines/panel/breathing.ts'
import { PART_HOLD_MS } from '../../machines/panel/climate.ts'
import type { State } from '../../machines/state.ts'
import { useServer, useShop } from '../commands/shop.ts'
import { useHands } from '../device/handsfree.ts'
import { type Kiosk, screenNow, slowNow } from '../device/runtime.ts'
import { atMoments, type Moment } from '../lanes/moment.ts'
import { zoneWord } from '../lanes/zones.ts'
import { Press } from '../ui/buttons.tsx'
import { useWhenQuiet } from '../ui/quiet.ts'
import { hashOf } from '../ui/route.ts'
import { countdown, shortLength } from '../units/format.ts'
import { breathingZones } from './breathing.ts'

/** The air of the head's zone, of those things that change only with a reading or as one grows old. */
function headAir(state: State, moment: Moment) {
  const zone = defaultZone(state)
  const readings = readingsOf(state, zone)
  const air = readings.findLast(({ at }) => moment.isPast(at))
  if (!air) return null
  const surface = surfacesOf(readings).findLast(({ at }) => moment.isPast(at))
  return {
    zone: state.things.zone[zone]?.context.spec?.name ?? zone,
    air,
    surfaceC: surface && !moment.isPast(surface.at + PART_HOLD_MS) ? surface.partC : null,
    /** Minutes since it was read, once it no longer holds. */
    oldMin: moment.isPast(air.at + STALE_MS) ? moment.minutesFrom(air.at) : null,
  }
}

/**
 * Air of the booth, its dew point and how far the surface lies above it; or that nothing is known. A
 * touch on it takes a reading.
 */
export function ClimateLine({ now }: { now: ReadonlySignal<number> }) {
  const { state, words, format } = useShop()
  const head = useMemo(
    () => atMoments(now, (moment) => state.value && headAir(state.value, moment)),
    [now, state],
  ).value
  if (!state.value) return null
  const { wall } = words.value
  if (!head) {
    return (
      <a class="climate minor" href={hashOf('air')}>
        {wall.noClimate}
      </a>
    )
  }
  const { zone, air, surfaceC, oldMin } = head
  const dew = air.rh > 0 ? format.value.dew(dewPointC(air.airC, air.rh), surfaceC) : null
  return (
    <a class="climate minor" href={hashOf('air')}>
      <span>
        {zone}{' '}
        <b>
          {format.value.temperature(air.airC)} · {format.value.humidity(air.rh)}
        </b>
        {dew !== null && (
          <span class={dew.above === null ? undefined : 'dew'}>
            {' '}
            · {wall.dewPoint} <b>{dew.point}</b>
          </span>
        )}
        {dew?.above != null && <> · {wall.surfaceOver(dew.above)}</>}
        {oldMin !== null && <b> · {wall.readAgo(shortLength(oldMin * 60_000))}</b>}
      </span>
    </a>
  )
}

/** Until when breathing air stays on, zone by zone, on every screen. It defers to sheet, maker and law. */
export function BreathingLine({ kiosk }: { kiosk: Kiosk }) {
  const { state, words } = useShop()
  const breathing = useMemo(
    () => atMoments(screenNow(kiosk), (at) => (state.value ? breathingZones(state.value, at) : [])),
    [kiosk, state],
  )
  const zones = breathing.value
  if (zones.length === 0) return null
  const now = slowNow(kiosk).value
  const { board } = words.value
  return (
    <p class="breathing" role="status">
      {zones.map((one) => (
        <BreathingZone key={one.zone} {...{ one, now }} />
      ))}{' '}
      <span>{board.breathingWhy}</span>
    </p>
  )
}

/** Without a clearance time it stays until a person has found the zone to be clear: a touch leads there. */
function BreathingZone({ one, now }: { readonly one: Breathing; readonly now: number }) {
  const { state, words, format } = useShop()
  const { board, zones } = words.value
  const nameOf = (id: string) => (state.value ? zoneWord(state.value, zones, id) : id)
  const { untilMs, isSpraying, clearanceMin } = one
  const zone = nameOf(one.zone)
  if (untilMs !== null) {
    const time = format.value.timeAndDay(untilMs, now)
    return <b data-breathing={one.zone}>{board.breathing(zone, time)}</b>
  }
  if (isSpraying && clearanceMin !== null)
    return <b data-breathing={one.zone}>{board.breathingSpraying(zone, clearanceMin)}</b>
  return (
    <a data-breathing={one.zone} href={hashOf('air', one.from)}>
      <b>{board.breathingNotSet(zone)}</b>
    </a>
  )
}

/** So long before a bell is due it is said that nobody would hear it. */
const NEAR_MS = 5 * 60_000

/**
 * This kiosk is silent; worse where no other one sounds either and a bell is near. Beside other work the
 * lamp in the head says the first, and a line the second.
 */
export function NoSound({ kiosk, isLarge }: NoSoundProps) {
  const isShown = useWhenQuiet(kiosk.speaker.sound.value === 'silent')
  return isShown ? <Silent kiosk={kiosk} isLarge={isLarge} /> : null
}

type NoSoundProps = { readonly kiosk: Kiosk; readonly isLarge: boolean }

/** Beats and ticks tell it what it may have to say: only another sentence is drawn. */
function Silent({ kiosk, isLarge }: NoSoundProps) {
  const { words, state } = useShop()
  const server = useServer()
  const { sound } = kiosk.speaker
  const unheardInMin = useComputed(() => {
    if (server?.said.value?.kiosks?.sounding !== 0 || !state.value) return null
    const { nowMs } = kiosk.reading.value
    const next = nextBellAt(state.value, nowMs)
    return next !== null && next - nowMs <= NEAR_MS ? Math.ceil((next - nowMs) / 60_000) : null
  }).value
  const { board } = words.value
  const unheard = unheardInMin === null ? null : board.nobodySounds(unheardInMin)
  if (!isLarge) {
    return unheard === null ? null : (
      <p class="line loud" role="alert">
        {unheard}
      </p>
    )
  }
  return (
    <div role="alert">
      <button type="button" class="no-sound" onClick={() => void kiosk.speaker.wake()}>
        {/* Woken by a touch, it keeps its place until the next touch cannot fall beside its key. */}
        {sound.value === 'silent' ? (unheard ?? board.noSound) : board.sound[sound.value]}
      </button>
    </div>
  )
}

/** The next bell that is to come, or one that came in the last minutes and has not rung; null without one. */
function nextBellAt(state: State, nowMs: number): number | null {
  const near = deadlines(state).filter((one) => one.dueAt > nowMs - NEAR_MS && !hasRung(state, one))
  return near[0]?.dueAt ?? null
}

/** What the last scan or the pedal came to, on every screen. */
export function HandsSaid({ now }: { now: ReadonlySignal<number> }) {
  const { words } = useShop()
  const { hands } = useHands()
  const said = hands.said.value
  if (said === null) return null
  const leftMs = said.clearsAt === undefined ? 0 : said.clearsAt - now.value
  return (
    <div class="hands-said" data-kind={said.kind} role={said.kind === 'done' ? 'status' : 'alert'}>
      <p>
        <b aria-hidden="true">{said.kind === 'done' ? '✓' : '!'}</b> {said.text}{' '}
        {leftMs > 0 && <b class="digits">{words.value.clearsIn(countdown(leftMs))}</b>}
      </p>
      <Press onPress={hands.close}>{words.value.handsfree.close}</Press>
    </div>
  )
}
