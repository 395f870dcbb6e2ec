import { rangeIn } from '../../machines/climate/range.ts'
import type { DayRange } from '../../machines/clock/air.ts'
import { zoneAsks } from '../../machines/panel/asks.ts'
import { asksSurface } from '../../machines/panel/surface.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import { actsIn } from '../words/acts.ts'
import type { Lane } from './lanes.ts'
import { zoneWord } from './zones.ts'

type Props = { readonly state: State; readonly lanes: readonly Lane[] }
/** `isBrief`: another question stands beside it, and both have to be in sight with START. */
type AskProps = Props & { readonly now: number; readonly isBrief: boolean }
type NoAirProps = AskProps & {
  /** Whether START is among the keys beside it. */
  readonly hasStart: boolean
}

/** What a range says, in the shop's units. */
export function useRangeText() {
  const { format } = useShop()
  const { temperature, humidity } = format.value
  return ({ minC, maxC, rhMin, rhMax }: DayRange): string => {
    const damp = [rhMin, rhMax].filter((rh) => rh !== undefined).map(humidity)
    return [`${temperature(minC)} – ${temperature(maxC)}`, damp.join(' – ')]
      .filter((text) => text !== '')
      .join(' · ')
  }
}

/**
 * Which zone no reading came from, and the ways on: read its air, say between what it stays today, or
 * say where the panel really is. A start may be pressed all the same. What was said of today stands
 * there instead, and in a shop without an instrument nothing more is asked.
 */
export function NoAir({ state, lanes, now, isBrief, hasStart }: NoAirProps) {
  const { words, format } = useShop()
  const textOf = useRangeText()
  const { range: ofDay, zones } = words.value
  const text = actsIn(words.value)
  const asksOf = (zone: string) => zoneAsks(state, zone, now).map(({ what }) => what)
  const blind = lanes.find((lane) => lane.isBlind || asksOf(lane.zone).length > 0)
  if (!blind) return null
  const asks = asksOf(blind.zone)
  const range = rangeIn(state, blind.zone, now)
  const name = zoneWord(state, zones, blind.zone)
  if (isBrief && !range)
    return (
      <div class="acts no-air brief" data-asks={asks.join(' ')}>
        <p>
          {name}: <b>{words.value.board.blind}</b>
        </p>
        <a class="button" data-act="readAir" href={hashOf('air', blind.zone)}>
          {text.readAir}
        </a>
      </div>
    )
  const until = range && format.value.timeAndDay(range.untilMs, now)
  return (
    <div class="acts no-air" data-asks={asks.join(' ')}>
      <p>
        {range && until !== undefined
          ? `${name}: ${ofDay.holds(textOf(range), until)}`
          : text.noAirIn(name)}
        {hasStart && asks.length > 0 && ` ${text.startAnyway}`}
      </p>
      {(!range || asks.includes('air')) && (
        <a class="button" data-act="readAir" href={hashOf('air', blind.zone)}>
          {text.readAir}
        </a>
      )}
      {!range && (
        <a class="button" data-act="dayRange" href={hashOf('air', blind.zone, 'range')}>
          {ofDay.say}
        </a>
      )}
      <a class="button" data-act="move" href={hashOf('jobs', blind.job, 'panel', blind.panel)}>
        {text.moveIt}
      </a>
    </div>
  )
}

/** How warm a panel is, where the sheet of its start asks for it: measured, or started all the same. */
export function AskSurface({ state, lanes, now, isBrief }: AskProps) {
  const words = useWords()
  const text = actsIn(words)
  const asked = lanes.find(({ panel: id, phase }) => {
    const panel = phase === null ? null : contextOf(state, 'panel', id)
    return panel && asksSurface(state, panel, now)
  })
  if (!asked) return null
  return (
    <div class={isBrief ? 'acts no-air brief' : 'acts no-air'} data-asks="surface">
      <p>
        <b>{words.board.partCold}</b>
        {!isBrief && ` ${text.noSurface(asked.name)} ${text.startAnyway}`}
      </p>
      <a class="button" data-act="readSurface" href={hashOf('air', asked.zone)}>
        {text.readSurface}
      </a>
    </div>
  )
}

/** What forbade is read again: the zone's air, with the surface where it was the surface. */
export function ReadAir({ state, lanes }: Props) {
  const words = useWords()
  const zones = [...new Set(lanes.map(({ zone }) => zone))]
  return (
    <>
      {zones.map((zone) => (
        <a key={zone} class="button main" data-act="readAir" href={hashOf('air', zone)}>
          <span>
            {actsIn(words).readAir}
            <small>{zoneWord(state, words.zones, zone)}</small>
          </span>
        </a>
      ))}
    </>
  )
}
