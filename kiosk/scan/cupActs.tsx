import { useSignal } from '@preact/signals'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'
import { useShop } from '../commands/shop.ts'
import { isRefused, useCommands } from '../commands/useCommands.ts'
import { type Act, saidBefore } from '../lanes/actTypes.ts'
import { beforeStart } from '../lanes/beforeStart.ts'
import { loadedGunsOf } from '../lanes/cups.ts'
import { CupWay } from '../lanes/cupWay.tsx'
import { LaneWays } from '../lanes/laneWays.tsx'
import { KeepAsked } from '../lanes/readyAsk.tsx'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold, Press } from '../ui/buttons.tsx'
import { Shape } from '../ui/drawings.tsx'
import * as ownWords from '../words/cupPage.ts'
import { useOwnWords } from '../words/words.ts'
import { startsFrom } from './starts.ts'

type Props = {
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly now: number
  /** Past its pot life. */
  readonly isOver: boolean
}

/** What can be done with a cup. One past its pot life is emptied first; a start from it is refused. */
export function CupActs({ state, id, cup, now, isOver }: Props) {
  const { words, format } = useShop()
  const say = useOwnWords(ownWords)
  const commands = useCommands()
  const { sending, ask, give, again, all, clear } = commands
  /** What was pressed last: a start on a panel, the load of a gun, or something that has no other way. */
  const tried = useSignal<{ readonly panel: string } | { readonly gun: string } | null>(null)
  const starts = startsFrom(state, id, words.value, now)
  const held = loadedGunsOf(state, now)
  const guns = Object.keys(state.things.gun).filter(
    (gun) => !held.some((g) => g.id === gun && !g.isDirty),
  )
  const isStopped = isRefused(sending.value, now)
  const press = (act: Act, panel: string) => {
    tried.value = { panel }
    void saidBefore(act, all).then((isSaid) => (isSaid ? give(act.type, act.data) : undefined))
  }
  const load = (gun: string) => {
    tried.value = { gun }
    void ask('LoadGun', { gun, cup: id })
  }
  const empty = (
    <Hold
      onHeld={() => {
        tried.value = null
        void ask('EmptyCup', { cup: id, how: 'discarded' })
      }}
    >
      <span>
        {words.value.act.empty}
        <small>{words.value.act.hold}</small>
      </span>
    </Hold>
  )
  return (
    <div class="scan-acts">
      <Answer
        sending={sending.value}
        now={now}
        wayOut={(code) => {
          if (tried.value === null) return null
          return 'gun' in tried.value ? (
            <CupWay {...{ code, state, id, cup, now }} gun={tried.value.gun} onTaken={clear} />
          ) : (
            <LaneWays {...{ state, commands, now }} id={tried.value.panel} />
          )
        }}
        onOverride={(reason) => void again(reason)}
      />
      {isOver && empty}
      <KeepAsked state={state} cup={id} now={now} />
      {starts.slice(0, 1).flatMap(({ act }) =>
        beforeStart(state, act.data, words.value, now, format.value.volume).map((text) => (
          <p class="sentence" key={text} data-before>
            {text}
          </p>
        )),
      )}
      {starts.slice(0, 3).map(({ act, lane, mayGoOn }) => (
        <button
          type="button"
          key={`${lane.panel} ${act.key}`}
          class={mayGoOn && !isOver && !isStopped ? 'main bell' : ''}
          data-sound={mayGoOn && !isOver && !isStopped ? 'A' : undefined}
          data-act="StartCoat"
          disabled={sending.value.busy}
          onClick={() => press(act, lane.panel)}
        >
          <span>
            {mayGoOn && !isOver && <Shape sound="A" />}
            {act.label}
            <small>
              {panelName(state, lane.panel)}
              {act.checks && ` · ${act.small}`}
              {mayGoOn ? `. ${words.value.wall.mayGoOn}` : ''}
            </small>
          </span>
        </button>
      ))}
      {guns.slice(0, 3).map((gun) => (
        <Press key={gun} isOff={sending.value.busy} onPress={() => load(gun)}>
          <span>
            {words.value.act.loadGun}
            <small>{state.things.gun[gun]?.context.spec?.name ?? gun}</small>
          </span>
        </Press>
      ))}
      {!isOver && empty}
      {knownZones(state)
        .filter((zone) => zone !== state.things.cup[id]?.context.zone)
        .slice(0, 3)
        .map((zone) => (
          <Press
            key={zone}
            act="MoveCup"
            isOff={sending.value.busy}
            onPress={() => {
              tried.value = null
              void ask('MoveCup', { cup: id, zone })
            }}
          >
            {say.carryTo(zoneWord(state, words.value.zones, zone))}
          </Press>
        ))}
    </div>
  )
}
