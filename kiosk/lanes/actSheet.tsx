import { useLayoutEffect } from 'preact/hooks'
import { keepAsked } from '../../machines/cup/keepAsk.ts'
import { bakePoint } from '../../machines/panel/cureClock.ts'
import { unaskedIn } from '../../machines/panel/inHeat.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { withJob } from '../commands/panelName.ts'
import { useShop } from '../commands/shop.ts'
import { isRefused, useCommands } from '../commands/useCommands.ts'
import { again } from '../ui/again.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Cautions } from '../ui/cautions.tsx'
import { useOver } from '../ui/over.ts'
import { later } from '../ui/screen.tsx'
import { countdown } from '../units/format.ts'
import { actsIn } from '../words/acts.ts'
import type { Words } from '../words/en.ts'
import { ActButton } from './actButton.tsx'
import { saidBefore } from './actTypes.ts'
import { arm, armed, armUntil, disarm } from './armed.ts'
import { beforeStart } from './beforeStart.ts'
import { cautionsOfWork } from './cautions.ts'
import { comingOf } from './coming.ts'
import type { Lane } from './lanes.ts'
import { AskSurface, NoAir } from './noAir.tsx'
import { HeatAsk, NoCure, NoWayOn } from './noWay.tsx'
import {
  type PassAct,
  passActs,
  type StartAct,
  startOfOthers,
  startsNext,
  wantsCup,
} from './pass.ts'
import { readyAsksOf } from './readyAsks.ts'
import { WayOut } from './wayOut.tsx'
import { MixFirst } from './ways.tsx'

const MINUTE_MS = 60_000
/** What only heat needs is fetched with it. */
const heatAround = () => again(() => import('./heatAround.tsx'))
const HeatAround = later(async () => (await heatAround()).HeatAround)
const LimitsFirst = later(async () => (await heatAround()).LimitsFirst)
const PartMeasured = later(
  async () => (await again(() => import('./partMeasured.tsx'))).PartMeasuredHere,
)
const KeepAsked = later(async () => (await again(() => import('./readyAsk.tsx'))).KeepAsked)
const ReadyAsks = later(async () => (await again(() => import('./readyAsk.tsx'))).ReadyAsks)

type Props = {
  readonly state: State
  /** One lane, or those of a pass in the order in which they are sprayed. */
  readonly lanes: readonly Lane[]
  readonly now: number
  /** Whether more lanes are chosen beside it. */
  readonly isChoosing?: boolean
  readonly onDone: () => void
}

/** What may be done with a lane, or with several at once: the expected first and largest. */
export function PassSheet({ state, lanes, now, isChoosing = false, onDone }: Props) {
  const { words, format } = useShop()
  const { sending, all, again, clear } = useCommands()
  const box = useOver<HTMLElement>(onDone, !isChoosing)
  const last = lanes.at(-1)?.panel
  // On a phone the sheet lies over the lower lanes: by its margin the one that was chosen comes above it.
  useLayoutEffect(() => {
    document.querySelector(`.lanes [data-panel="${last}"]`)?.scrollIntoView({ block: 'nearest' })
  }, [last])
  const acts = passActs(state, lanes, words.value, now)
  const first = lanes[0]
  const start = armed.value.find((a) => lanes.some((lane) => a.panels.includes(lane.panel)))
  const done = (isDone: boolean) => {
    if (isDone) onDone()
  }
  const send = (act: PassAct) => {
    const extra = act.agoMin ? { at: now - act.agoMin * MINUTE_MS, enteredAt: now } : {}
    void saidBefore(act, all).then((isSaid) =>
      isSaid ? all(act.type, act.datas, extra).then(done) : undefined,
    )
  }
  const sent = sending.value.sent
  const isStopped = isRefused(sending.value, now)
  const refused = sent?.kind === 'refused' ? (sent.refusal.panels ?? []) : []
  const others = refused.length > 0 ? startOfOthers(acts, refused) : null
  const untilMs = start ? null : armUntil(lanes, now)
  const ready = acts.find(startsNext(lanes))
  const getReady = (act: StartAct, until: number) => {
    const [data] = act.datas
    if (!data) return
    arm({
      panels: lanes.map((lane) => lane.panel),
      label: `${act.label} · ${titleOf(state, lanes, words.value)}`,
      data,
      untilMs: until,
    })
    onDone()
  }
  if (!first) return null
  const title = titleOf(state, lanes, words.value)
  const wantsMix = wantsCup(lanes, acts)
  const toCome = ready?.datas[0]
  const cup = toCome && contextOf(state, 'cup', toCome.cup)
  const isBrief = cup ? keepAsked(state, cup, now) !== null : false
  const before = toCome ? beforeStart(state, toCome, words.value, now, format.value.volume) : []
  const buttons = (group?: PassAct['group']) =>
    acts
      .filter((act) => act.group === group)
      .map((act) => (
        <ActButton
          key={act.key}
          act={act}
          // In the last minutes of flash the key that can be used is the one that gets the start ready.
          isMain={act.isMain === true && untilMs === null && !isStopped}
          isBusy={sending.value.busy}
          onPress={send}
        />
      ))
  const ago = buttons('ago')
  const more = buttons('more')
  const inspect = buttons('inspect')
  const asks = (isMore: boolean) =>
    readyAsksOf(
      state,
      acts.filter(({ group }) => (group === 'more' || group === 'sand') === isMore),
      now,
    )
  const isToBake = acts.some(({ key }) => key === 'bake')
  const panel = contextOf(state, 'panel', first.panel)
  const baking = acts.some(({ key }) => key === 'at') ? panel : undefined
  // A bake that goes by its part asks for no air.
  const isByPart = panel?.cure?.mode === 'bake' && bakePoint(panel)?.basis === 'part'
  const asksFirst = asks(false)
  const asksMore = asksFirst.length > 0 ? [] : asks(true)
  return (
    <section class="framed raised act-sheet" ref={box} tabIndex={-1} aria-label={title}>
      <div class="act-head">
        <h2>{title}</h2>
        <Press onPress={onDone}>{words.value.act.close}</Press>
      </div>
      <Answer
        sending={sending.value}
        now={now}
        wayOut={() => (
          <>
            {others && (
              <Press
                act="startOthers"
                isMain
                isOff={sending.value.busy}
                onPress={() => void all('StartCoat', [others]).then(done)}
              >
                {words.value.act.startSome(others.panels.length, lanes.length)}
              </Press>
            )}
            {sent?.kind === 'refused' && (
              <WayOut
                {...{ state, lanes, acts, now }}
                refusal={sent.refusal}
                isBusy={sending.value.busy}
                onPress={send}
                onTaken={clear}
              />
            )}
          </>
        )}
        onOverride={(reason) => void again(reason).then(done)}
      />
      {before.map((text) => (
        <p class="sentence" key={text} data-before>
          {text}
        </p>
      ))}
      <NoCure lane={first} />
      <NoWayOn state={state} lanes={lanes} />
      <HeatAsk lane={first} state={state} />
      {isToBake && unaskedIn(state, first.zone).length > 0 && (
        <LimitsFirst state={state} zone={first.zone} now={now} />
      )}
      {ready && <NoAir {...{ state, lanes, now, isBrief }} hasStart />}
      {ready && <AskSurface {...{ state, lanes, now, isBrief }} />}
      {toCome && <KeepAsked state={state} cup={toCome.cup} now={now} />}
      {asksFirst.length > 0 && <ReadyAsks state={state} asks={asksFirst} now={now} />}
      {acts.length === 0 && !wantsMix && <p class="minor">{actsIn(words.value).nothingShared}</p>}
      {start && (
        <div class="acts">
          <p>
            <b>{words.value.board.armedTitle(start.label)}</b>{' '}
            {words.value.board.armed(countdown(Math.max(0, start.untilMs - now)))}
          </p>
          <Press act="disarm" onPress={() => disarm(start.panels)}>
            {words.value.board.cancel}
          </Press>
        </div>
      )}
      <div class="acts">
        {ready && untilMs !== null && (
          <Press act="arm" isMain={!isStopped} onPress={() => getReady(ready, untilMs)}>
            <span>
              {words.value.board.arm}
              <small>
                {ready.label} · {words.value.board.armed(countdown(untilMs - now))}
              </small>
            </span>
          </Press>
        )}
        {buttons()}
        {wantsMix && <MixFirst state={state} of={comingOf(first)} />}
        {ago.length > 0 && (
          <fieldset class="acts ago">
            <legend class="minor">{actsIn(words.value).finishedAgo}</legend>
            {ago}
          </fieldset>
        )}
        {buttons('sand')}
        {inspect.length > 0 && (
          <details class="more" data-more="inspect">
            <summary class="button">{actsIn(words.value).lookOver}</summary>
            <div class="acts">{inspect}</div>
          </details>
        )}
        {more.length > 0 && (
          <details class="more" data-more="more">
            <summary class="button">{actsIn(words.value).otherActs}</summary>
            {asksMore.length > 0 && <ReadyAsks state={state} asks={asksMore} now={now} />}
            <div class="acts">{more}</div>
          </details>
        )}
      </div>
      {baking && lanes.length === 1 && (
        <PartMeasured id={first.panel} panel={baking} now={now} onTaken={onDone} />
      )}
      {isToBake && <HeatAround state={state} zone={first.zone} now={now} />}
      {!ready && !isByPart && asksFirst.length === 0 && (
        <NoAir {...{ state, lanes, now, isBrief }} hasStart={false} />
      )}
      <Cautions names={cautionsOfWork(state, lanes, now)} />
    </section>
  )
}

/** What may be done with one lane. */
export const ActSheet = ({ lane, ...props }: Omit<Props, 'lanes'> & { readonly lane: Lane }) => (
  <PassSheet lanes={[lane]} {...props} />
)

/** Panels are named with their job: on a phone the sheet covers their lanes. */
function titleOf(state: State, lanes: readonly Lane[], words: Words): string {
  const jobs = [...new Set(lanes.map(({ job }) => job))]
  const named = jobs.map((job) => {
    const names = lanes.flatMap((lane) => (lane.job === job ? [lane.name] : []))
    return withJob(state, job, names.join(', '))
  })
  const all = named.join(', ')
  return lanes.length === 1 ? all : `${actsIn(words).chosen(lanes.length)}: ${all}`
}
