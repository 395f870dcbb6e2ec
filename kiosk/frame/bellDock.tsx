import { type ReadonlySignal, useSignal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import type { Shown } from '../bells/open.ts'
import { isSpraying } from '../bells/spraying.ts'
import { startedHere } from '../commands/presses.ts'
import { useShop } from '../commands/shop.ts'
import type { Kiosk } from '../device/runtime.ts'
import { countdown } from '../units/format.ts'
import { BellCard, cardLine } from './bellCards.tsx'

/** The most urgent; lanes and cups carry the others' colors, and a touch shows them all. */
const CARDS_MOST = 1

type Props = {
  readonly kiosk: Kiosk
  readonly state: State
  readonly now: ReadonlySignal<number>
}

const isRinging = ({ state }: Shown) => state === 'due' || state === 'sounding'

/** All that rings, was snoozed or was missed: on every screen, within reach of the hand. */
export function BellDock({ kiosk, state, now }: Props) {
  const { words } = useShop()
  const isOpen = useSignal(false)
  const { cards, inFlood, silencedUntilMs } = kiosk.ringer.bells.value
  const { board } = words.value
  const ringing = cards.filter(isRinging)
  const shown = isOpen.value ? ringing : ringing.slice(0, CARDS_MOST)
  const rest = ringing.length - CARDS_MOST
  return (
    <>
      {inFlood && (
        <p class="flood" role="status">
          <b>{board.alerts(ringing.length)}</b> {board.flood}
        </p>
      )}
      {ringing.length > 0 && (
        <div class="bell-row">
          <ul class="bell-cards" aria-live="assertive">
            {shown.map((card) => (
              <BellCard key={card.key} card={card} kiosk={kiosk} state={state} now={now.value} />
            ))}
          </ul>
          <div class="bell-rest">
            {silencedUntilMs > now.value ? (
              <p role="status">{board.silent(countdown(silencedUntilMs - now.value))}</p>
            ) : (
              <button type="button" data-act="silence" onClick={() => kiosk.ringer.silence()}>
                {board.silence}
              </button>
            )}
            {rest > 0 && (
              <button
                type="button"
                data-act="more"
                aria-expanded={isOpen.value}
                onClick={() => {
                  isOpen.value = !isOpen.value
                }}
              >
                {isOpen.value ? board.fewer : board.more(rest)}
              </button>
            )}
          </div>
        </div>
      )}
      <PutOff cards={cards} kiosk={kiosk} state={state} now={now} />
      <Missed cards={cards} kiosk={kiosk} state={state} now={now} />
      {isSpraying(state, startedHere.value) && <p class="minor">{board.held}</p>}
    </>
  )
}

type ListProps = Props & { readonly cards: readonly Shown[] }

/** Snoozed bells: always in sight, with the time left. */
function PutOff({ cards, kiosk, state, now }: ListProps) {
  const { words } = useShop()
  return cards
    .filter((card) => card.state === 'snoozed')
    .map((card) => (
      <div class="put-off" key={card.key} data-put-off={card.kind}>
        <p>
          {words.value.board.putOff(
            cardLine(state, card, words.value),
            countdown(card.snoozedUntilMs - now.value),
          )}
        </p>
        <button type="button" onClick={() => kiosk.ringer.unsnooze(card.key)}>
          {words.value.board.ringAgain}
        </button>
      </div>
    ))
}

/** Alarms that ended before anybody answered: a quiet badge until somebody looks. */
function Missed({ cards, kiosk, state }: ListProps) {
  const { words } = useShop()
  const isOpen = useSignal(false)
  const missed = cards.filter((card) => card.state === 'missed')
  if (missed.length === 0) return null
  const see = () => {
    for (const card of missed) kiosk.ringer.view(card.key)
    isOpen.value = false
  }
  if (!isOpen.value) {
    return (
      <button
        type="button"
        data-act="missed"
        onClick={() => {
          isOpen.value = true
        }}
      >
        {words.value.board.missed(missed.length)}
      </button>
    )
  }
  return (
    <div class="put-off">
      <ul>
        {missed.map((card) => (
          <li key={card.key}>{cardLine(state, card, words.value)}</li>
        ))}
      </ul>
      <button type="button" data-act="seen" onClick={see}>
        {words.value.board.seen}
      </button>
    </div>
  )
}
