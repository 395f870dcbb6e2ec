import { BELLS, MAX_SNOOZE_MS, maySnooze } from '../../machines/bell/kinds.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { State } from '../../machines/state.ts'
import { answerBell } from '../bells/answerBell.ts'
import type { Shown } from '../bells/open.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import type { Kiosk } from '../device/runtime.ts'
import { bellLine } from '../lanes/nextUp.ts'
import { Answer } from '../ui/answer.tsx'
import { Shape } from '../ui/shape.tsx'
import { countdown, shortLength } from '../units/format.ts'

const SNOOZE_MIN = 5
const LATE_MS = 60_000

/** What a card is about, as its bells say it. */
export const cardLine = (state: State, card: Shown, words: Parameters<typeof bellLine>[2]) =>
  card.bells
    .map(({ key, kind, dueAt, thing }) => {
      const deadline = deadlines(state).find((d) => d.key === key)
      const plain = { key, bell: kind, dueAt, thing: { kind: kindOf(state, thing), id: thing } }
      return bellLine(state, deadline ?? plain, words)
    })
    .join(' · ')

/** The panels that a card asks somebody to look at. */
const panelsOf = (state: State, card: Shown): string[] =>
  card.bells.flatMap(({ key, thing }) => {
    const deadline = deadlines(state).find((d) => d.key === key)
    return deadline?.panels ?? [thing]
  })

type Props = { readonly card: Shown; readonly kiosk: Kiosk; readonly state: State; now: number }

/** One bell that rings: word, shape, color and place, and what answers it. */
export function BellCard({ card, kiosk, state, now }: Props) {
  const { words, format, send } = useShop()
  const { calling } = words.value
  const time = format.value.timeAndDay
  const { sound } = BELLS[card.kind]
  const acknowledge = () => {
    kiosk.ringer.acknowledge(card.key)
    void answerBell(send, state, card)
  }
  const snooze = () => {
    kiosk.ringer.snooze(card.key, SNOOZE_MIN * 60_000)
    void answerBell(send, state, card, SNOOZE_MIN)
  }
  const longest = MAX_SNOOZE_MS[BELLS[card.kind].class]
  const maySleep = maySnooze(card.kind, card.snoozes, Math.min(SNOOZE_MIN * 60_000, longest))
  return (
    <li class="bell card" data-sound={sound} data-state={card.state} data-bell={card.kind}>
      <Shape sound={sound} />
      <span class="text">
        {cardLine(state, card, words.value)}
        {now - card.dueAt > LATE_MS && (
          <small> · {calling.due(time(card.dueAt, now), shortLength(now - card.dueAt))}</small>
        )}
        {card.heldUntilMs > now && (
          <small data-held> · {calling.held(countdown(card.heldUntilMs - now))}</small>
        )}
      </span>
      <span class="answers">
        {maySleep && (
          <button type="button" data-act="snooze" onClick={snooze}>
            {words.value.act.snooze}
          </button>
        )}
        {card.kind === 'look' ? (
          <LookButtons panels={panelsOf(state, card)} now={now} />
        ) : (
          <button type="button" class="main" data-act="acknowledge" onClick={acknowledge}>
            {words.value.act.acknowledge}
          </button>
        )}
      </span>
    </li>
  )
}

/** A look is answered by what was seen: it needs no acknowledging beside it. */
function LookButtons({ panels, now }: { panels: readonly string[]; now: number }) {
  const { words } = useShop()
  const { sending, all } = useCommands()
  const say = (result: 'matt' | 'notYet') =>
    void all(
      'InspectCoat',
      panels.map((panel) => ({ panel, result })),
    )
  return (
    <>
      <button type="button" class="main" data-result="notYet" onClick={() => say('notYet')}>
        {words.value.act.notYet}
      </button>
      <button type="button" class="main" data-result="matt" onClick={() => say('matt')}>
        {words.value.act.matt}
      </button>
      <Answer sending={sending.value} now={now} />
    </>
  )
}

const kindOf = (state: State, id: string): 'panel' | 'cup' | 'gun' =>
  id in state.things.panel ? 'panel' : id in state.things.cup ? 'cup' : 'gun'
