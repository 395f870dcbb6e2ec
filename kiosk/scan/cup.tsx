import type { ReadCup } from '../../labels/code.ts'
import { readingsOf } from '../../machines/climate/fold.ts'
import { minutesAt } from '../../machines/clock/interval.ts'
import { lastBefore } from '../../machines/clock/line.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { mixedRatio } from '../../machines/cup/ratio.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import type { State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'
import { useShop, useUnprinted } from '../commands/shop.ts'
import { cautionsFor } from '../lanes/cautions.ts'
import { IntoCleanCup } from '../lanes/cleanCup.tsx'
import { type CupView, cupView, mixNames, outlivedBy } from '../lanes/cups.ts'
import { lanesOf } from '../lanes/lanes.ts'
import { Cautions } from '../ui/cautions.tsx'
import { ChainLink } from '../ui/chainLink.tsx'
import { percentLeft, Ring } from '../ui/drawings.tsx'
import { countdown, shortLength } from '../units/format.ts'
import * as ownWords from '../words/cupPage.ts'
import { useOwnWords } from '../words/words.ts'
import { CupActs } from './cupActs.tsx'

type Props = {
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly label: ReadCup | null
  readonly now: number
}

/** The panels that a cup is on, with the times of its coats. */
function onPanels(state: State, id: string, time: (ms: number) => string): string[] {
  return Object.entries(state.things.panel).flatMap(([of, { context: panel }]) => {
    const name = panelName(state, of)
    const done = panel.coats.filter((c) => c.cups.includes(id))
    const open = panel.open?.cups.includes(id) ? [`${name}, ${time(panel.open.startedAt)} –`] : []
    return [...done.map((c) => `${name}, ${time(c.startedAt)} – ${time(c.finishedAt)}`), ...open]
  })
}

/** Where the air makes a pot life shorter than the sheet's own figure: said in numbers. */
function Faster({ state, cup, now }: { state: State; cup: CupContext; now: number }) {
  const { format } = useShop()
  const say = useOwnWords(ownWords)
  const clock = cup.clocks[0]
  const own = clock?.interval.points[0]
  const air = clock && lastBefore(readingsOf(state, clock.zone), now)
  if (!clock || !own || !air) return null
  const lives = minutesAt(clock.interval.kind, clock.interval.points, air.airC)
  if (lives > own.minutes - 1) return null
  return (
    <>
      <h3 class="minor">{say.faster}</h3>
      <p>
        {say.fasterWhy(
          shortLength(own.minutes * 60_000),
          format.value.temperature(own.atC),
          format.value.temperature(air.airC),
          shortLength(lives * 60_000),
        )}
      </p>
    </>
  )
}

/** Coats that need this material and are not ready before it ends: they need another cup. */
function TooLate({
  state,
  cup,
  endsAt,
  now,
}: Pick<Props, 'state' | 'cup' | 'now'> & { endsAt: number | null }) {
  const { words, format } = useShop()
  const say = useOwnWords(ownWords)
  if (endsAt === null || endsAt <= now) return null
  const { stage } = words.value
  return (
    <>
      {outlivedBy(state, lanesOf(state, now), cup, endsAt).map(({ lane, from }) => (
        <p class="sentence" key={lane.panel}>
          {say.tooLate(
            `${stage[cup.stage]} ${lane.coatsOn + 1}`,
            panelName(state, lane.panel),
            format.value.timeAndDay(from, now),
          )}
        </p>
      ))}
    </>
  )
}

/** The guns that still hold what came from a cup. */
const gunsWith = (state: State, cup: string): string[] =>
  Object.entries(state.things.gun).flatMap(([id, { context }]) =>
    context.loads.some((load) => load.cup === cup) ? [id] : [],
  )

/** A cup by its label: how long it lasts, large; what is in it; what can be done with it. */
export function CupScreen({ state, id, cup, label, now }: Props) {
  const { words, format } = useShop()
  const say = useOwnWords(ownWords)
  const isUnprinted = useUnprinted().includes(id)
  const view = cupView(state, id, cup, now)
  const { scan, stage } = words.value
  // As the server answers a scan: of two ends the earlier, of one that one.
  const ends = [view.endsAt, label?.useByMs ?? null].filter((end) => end !== null)
  const endsAt = ends.length === 0 ? null : Math.min(...ends)
  const on = onPanels(state, id, format.value.time)
  const sheet = sheetAt(state, cup.sheet, cup.mixedAt)?.sheet
  return (
    <div class="scan-cup">
      <section>
        <h2>
          {scan.cup} <span class="digits">{id.slice(0, 4)}</span> ·{' '}
          {[stage[cup.stage], cup.colour].filter(Boolean).join(', ')}
        </h2>
        <Life endsAt={endsAt} view={view} now={now} />
        {!view.isEmptied && <TooLate state={state} cup={cup} endsAt={endsAt} now={now} />}
        {view.labelReadsLate && <p class="sentence">{scan.late}</p>}
        {view.isOff && !view.isEmptied && <p class="sentence">{words.value.bench.offRatio}</p>}
        {isUnprinted && <p class="sentence">{words.value.wall.unprinted}</p>}
        <Faster state={state} cup={cup} now={now} />
        <h3 class="minor">{say.on}</h3>
        <p>{on.length > 0 ? on.join(' · ') : say.notOn}</p>
        <Cautions names={cautionsFor(sheet, cup.clocks.length > 0).names} />
      </section>
      <aside>
        <Ring left={view.left} label={percentLeft(view)} size={240} />
        <h3 class="minor">{say.mixed}</h3>
        <p class="digits">
          {format.value.timeAndDay(cup.mixedAt, now)} · {format.value.volume(cup.totalMl)}
        </p>
        <h3 class="minor">{say.ratio}</h3>
        <p class="digits">{[mixedRatio(cup), ...mixNames(cup)].join(' · ')}</p>
        <ChainLink kind="cup" id={id} />
      </aside>
      {!view.isEmptied && (
        <CupActs
          state={state}
          id={id}
          cup={cup}
          now={now}
          isOver={endsAt !== null && endsAt <= now}
        />
      )}
      {view.isEmptied &&
        gunsWith(state, id).map((gun) => (
          <IntoCleanCup key={gun} state={state} gun={gun} now={now} isNamed />
        ))}
    </div>
  )
}

type LifeProps = { readonly endsAt: number | null; readonly view: CupView; readonly now: number }

function Life({ endsAt, view, now }: LifeProps) {
  const { cup, isEmptied } = view
  const { words, format } = useShop()
  const say = useOwnWords(ownWords)
  const { scan } = words.value
  if (isEmptied) {
    return <p class="life">{say.emptied(format.value.timeAndDay(cup.emptiedAt ?? now, now))}</p>
  }
  if (endsAt === null) {
    return (
      <>
        <p class="life words">{say.noPotLife}</p>
        <p class="life-note">
          {view.keepsUntil !== null && say.keepUntil(format.value.date(view.keepsUntil, now))}
        </p>
      </>
    )
  }
  const time = format.value.timeAndDay(endsAt, now)
  const isOver = now >= endsAt
  return (
    <>
      <p class={isOver ? 'life digits bell' : 'life digits'} data-sound={isOver ? 'B2' : undefined}>
        {isOver ? words.value.wall.over(shortLength(now - endsAt)) : countdown(endsAt - now)}
      </p>
      <p class="life-note">{isOver ? say.overSince(time) : `${scan.of}, ${say.endsAt(time)}`}</p>
    </>
  )
}
