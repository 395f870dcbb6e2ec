import { BLANK_PANEL, zoneOf } from '../../machines/panel/context.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import type { ToldRefusal } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { again } from '../ui/again.ts'
import { later } from '../ui/screen.tsx'
import { ActButton } from './actButton.tsx'
import { bakesBelow } from './bakesBelow.ts'
import { comingOf } from './coming.ts'
import { endsCool } from './heatNow.ts'
import type { Lane } from './lanes.ts'
import { ReadAir } from './noAir.tsx'
import { type PassAct, startsIn, wantsCup } from './pass.ts'
import { RoomWays } from './roomWays.tsx'
import { CleanFirst, ColourFirst, MixFirst, PourRight } from './ways.tsx'
import { WAYS, wayActs } from './waysOut.ts'

const PartIsCool = later(async () => (await again(() => import('./heatAround.tsx'))).PartIsCool)

/** Where the panels of these lanes are. */
const zonesOf = ({ things }: State, lanes: readonly Lane[]): string[] => [
  ...new Set(lanes.flatMap(({ panel }) => zoneOf(things.panel[panel]?.context ?? BLANK_PANEL))),
]

/** The cup that was poured off its ratio. */
const offCup = ({ problems }: ToldRefusal): string | undefined =>
  problems.flatMap((p) =>
    p.code === 'ratioOff' || p.code === 'noActivator' ? p.params.about : [],
  )[0]

type Props = {
  readonly state: State
  readonly refusal: ToldRefusal
  readonly lanes: readonly Lane[]
  readonly acts: readonly PassAct[]
  readonly now: number
  readonly isBusy: boolean
  readonly onPress: (act: PassAct) => void
  /** A way out with a command of its own was gone: what was refused may be pressed again. */
  readonly onTaken: () => void
}

/** The first keys of a refusal: what to do instead. */
export function WayOut(props: Props) {
  const { state, refusal, lanes, acts, now, isBusy, onPress, onTaken } = props
  const { words } = useShop()
  const { code } = refusal
  const keys = (all: readonly PassAct[]) =>
    all.map((act, i) => (
      <ActButton key={act.key} act={act} isMain={i === 0} isBusy={isBusy} onPress={onPress} />
    ))
  const [first] = lanes
  switch (WAYS[code].by) {
    case 'act': {
      const ways = wayActs(code, acts)
      if (ways.length > 0 || !first || !wantsCup(lanes, acts)) return <>{keys(ways)}</>
      return <MixFirst state={state} of={comingOf(first)} />
    }
    case 'mix':
      return first ? <MixFirst state={state} of={comingOf(first)} /> : null
    case 'pour':
      return <PourRight cup={offCup(refusal)} />
    case 'colour':
      return first ? <ColourFirst lane={first} /> : null
    case 'cleanGun':
      return (
        <CleanFirst
          {...{ state, now, onTaken }}
          guns={startsIn(acts).flatMap(({ gun }) => gun ?? [])}
        />
      )
    case 'readAir':
      return <ReadAir state={state} lanes={lanes} />
    case 'room':
      return code === 'heatInZone' || code === 'wetInZone' ? (
        <RoomWays {...{ state, code, now, onTaken }} zones={zonesOf(state, lanes)} />
      ) : null
    case 'cool':
      return lanes.some(({ hotUntil }) => endsCool(refusal, hotUntil)) ? (
        <PartIsCool panels={lanes.map(({ panel }) => panel)} {...{ now, onTaken }} />
      ) : null
    case 'bakeBelow':
      return <>{keys(bakesBelow(acts, refusal, words.value, settingsOf(state).units))}</>
    default:
      return null
  }
}
