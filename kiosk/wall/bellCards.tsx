import { BELLS, MAX_SNOOZE_MS, maySnooze } from '../../machines/bell/kinds.ts'
import type { State } from '../../machines/state.ts'
import type { Shown } from '../ringer.ts'
import type { Kiosk } from '../runtime.ts'
import { useShop } from '../shop/context.ts'
import { shortLength } from '../shop/format.ts'
import { bellLine } from './next.tsx'
import { Shape } from './shape.tsx'

const SNOOZE_MIN = 5
const CARDS_MOST = 3

/** What rings or rang and was not answered: word, shape, colour and place, most urgent first. */
export function BellCards({ kiosk, state }: { kiosk: Kiosk; state: State }) {
  const { words } = useShop()
  const { cards } = kiosk.ringer.bells.value
  const open = cards.filter(({ state: is }) => is !== 'acknowledged' && is !== 'snoozed')
  if (open.length === 0) return null
  const shown = open.slice(0, CARDS_MOST)
  return (
    <ul class="bell-cards" aria-live="assertive">
      {shown.map((card) => (
        <BellCard key={card.key} card={card} kiosk={kiosk} state={state} />
      ))}
      {open.length > shown.length && (
        <li class="minor">
          + {open.length - shown.length} {words.value.wall.next}
        </li>
      )}
    </ul>
  )
}

function BellCard({ card, kiosk, state }: { card: Shown; kiosk: Kiosk; state: State }) {
  const { words, send } = useShop()
  const now = kiosk.reading.value.nowMs
  const { sound } = BELLS[card.kind]
  const acknowledge = () => {
    if (card.state === 'missed') kiosk.ringer.view(card.key)
    else kiosk.ringer.acknowledge(card.key)
    for (const { key } of card.bells) void send('AcknowledgeBell', { key })
  }
  const snooze = () => {
    kiosk.ringer.snooze(card.key, SNOOZE_MIN * 60_000)
    for (const { key } of card.bells) void send('SnoozeBell', { key, minutes: SNOOZE_MIN })
  }
  const maySleep =
    card.state !== 'missed' &&
    maySnooze(
      card.kind,
      card.snoozes,
      Math.min(SNOOZE_MIN * 60_000, MAX_SNOOZE_MS[BELLS[card.kind].class]),
    )
  const lines = card.bells.map(({ key, kind, dueAt, thing }) =>
    bellLine(
      state,
      { key, bell: kind, dueAt, thing: { kind: kindOf(state, thing), id: thing } },
      words.value,
    ),
  )
  return (
    <li class="bell card" data-sound={sound} data-state={card.state} data-bell={card.kind}>
      <Shape sound={sound} />
      <span class="text">
        {lines.join(' · ')}
        {now - card.dueAt > 60_000 && (
          <small> {words.value.wall.since(shortLength(now - card.dueAt))}</small>
        )}
      </span>
      {maySleep && (
        <button type="button" onClick={snooze}>
          {words.value.act.snooze}
        </button>
      )}
      <button type="button" class="main" data-act="acknowledge" onClick={acknowledge}>
        {words.value.act.acknowledge}
      </button>
    </li>
  )
}

const kindOf = (state: State, id: string): 'panel' | 'cup' | 'gun' =>
  id in state.things.panel ? 'panel' : id in state.things.cup ? 'cup' : 'gun'
