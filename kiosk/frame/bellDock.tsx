import { type ReadonlySignal, type Signal, useSignal } from '@preact/signals'
import { BELLS, MAX_SNOOZE_MS, maySnooze } from '../../machines/bell/kinds.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { State } from '../../machines/state.ts'
import { isSpraying, type Shown } from '../bells/openBells.ts'
import { answerBell } from '../bells/reporter.ts'
import { startedHere } from '../commands/presses.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import type { Kiosk } from '../device/runtime.ts'
import { bellSaid, SOON } from '../lanes/nextUp.ts'
import { Answer } from '../ui/answer.tsx'
import { Press, Toggle } from '../ui/buttons.tsx'
import { Shape } from '../ui/drawings.tsx'
import { countdown, shortLength } from '../units/format.ts'

/** The most urgent; lanes and cups carry the others' colors, and a touch shows them all. */
const CARDS_MOST = 1

type BellDockProps = {
  readonly kiosk: Kiosk
  readonly state: State
  readonly now: ReadonlySignal<number>
}

const isRinging = ({ state }: Shown) => state === 'due' || state === 'sounding'

/** All that rings, was snoozed or was missed: on every screen, within reach of the hand. */
export function BellDock({ kiosk, state, now }: BellDockProps) {
  const { words } = useShop()
  const isOpen = useSignal(false)
  const isMissedOpen = useSignal(false)
  const { cards, inFlood, silencedUntilMs } = kiosk.ringer.bells.value
  const { board } = words.value
  const ringing = cards.filter(isRinging)
  const shown = isOpen.value ? ringing : ringing.slice(0, CARDS_MOST)
  const rest = ringing.length - CARDS_MOST
  const missed = cards.filter((card) => card.state === 'missed')
  return (
    <>
      {inFlood && (
        <p class="flood" role="status">
          <b>{board.alerts(ringing.length)}</b> {board.flood}
        </p>
      )}
      {ringing.length > 0 && (
        <div class="bell-row" data-open={isOpen.value}>
          <ul class="bell-cards" aria-live="assertive">
            {shown.map((card) => (
              <BellCard key={card.key} card={card} kiosk={kiosk} state={state} now={now.value} />
            ))}
          </ul>
          <div class="bell-rest">
            {silencedUntilMs > now.value ? (
              <p role="status">{board.silent(countdown(silencedUntilMs - now.value))}</p>
            ) : (
              <Press act="silence" onPress={() => kiosk.ringer.silence()}>
                {board.silence}
              </Press>
            )}
            <span class={rest > 0 ? undefined : 'on-phone'}>
              <Toggle act="more" isOpen={isOpen}>
                <span>
                  {isOpen.value ? board.fewer : rest > 0 ? board.more(rest) : board.moreKeys}
                  {/* On a phone, folded, the only place for it: a key of its own would be a second row. */}
                  {missed.length > 0 && !isOpen.value && (
                    <span class="on-phone">
                      <small>{board.missed(missed.length)}</small>
                    </span>
                  )}
                </span>
              </Toggle>
            </span>
            <MissedKey count={missed.length} isOpen={isMissedOpen} />
          </div>
        </div>
      )}
      <PutOff cards={cards} kiosk={kiosk} state={state} now={now} />
      {ringing.length === 0 && <MissedKey count={missed.length} isOpen={isMissedOpen} />}
      {isMissedOpen.value && <Missed {...{ missed, kiosk, state, now }} isOpen={isMissedOpen} />}
      {isSpraying(state, startedHere.value) && <p class="minor">{board.held}</p>}
    </>
  )
}

type ListProps = BellDockProps & { readonly cards: readonly Shown[] }

/** Snoozed bells: always in sight, with the time left. */
function PutOff({ cards, kiosk, state, now }: ListProps) {
  const { words } = useShop()
  return cards
    .filter((card) => card.state === 'snoozed')
    .map((card) => (
      <div class="put-off" key={card.key} data-put-off={card.kind}>
        <p>
          {words.value.board.putOff(
            cardLine(state, card, words.value, now.value),
            countdown(card.snoozedUntilMs - now.value),
          )}
        </p>
        <Press onPress={() => kiosk.ringer.unsnooze(card.key)}>{words.value.board.ringAgain}</Press>
      </div>
    ))
}

type MissedKeyProps = { readonly count: number; readonly isOpen: Signal<boolean> }

/** Alarms that ended before anybody answered: a quiet badge until somebody looks, beside what rings. */
function MissedKey({ count, isOpen }: MissedKeyProps) {
  const { words } = useShop()
  if (count === 0 || isOpen.value) return null
  return (
    <Press
      act="missed"
      onPress={() => {
        isOpen.value = true
      }}
    >
      {words.value.board.missed(count)}
    </Press>
  )
}

type MissedProps = BellDockProps & {
  readonly missed: readonly Shown[]
  readonly isOpen: Signal<boolean>
}

function Missed({ missed, kiosk, state, isOpen, now }: MissedProps) {
  const { words } = useShop()
  const see = () => {
    for (const card of missed) kiosk.ringer.view(card.key)
    isOpen.value = false
  }
  if (missed.length === 0) return null
  return (
    <div class="put-off">
      <ul>
        {missed.map((card) => (
          <li key={card.key}>{cardLine(state, card, words.value, now.value)}</li>
        ))}
      </ul>
      <Press act="seen" onPress={see}>
        {words.value.board.seen}
      </Press>
    </div>
  )
}

const SNOOZE_MIN = 5
const LATE_MS = 60_000

type SaidWords = Parameters<typeof bellSaid>[2]

/** What a card is about, as its bells say it: what they all say is said once. */
function cardSaid(state: State, card: Shown, words: SaidWords, now: number) {
  const said = card.bells.map(({ key, kind, dueAt, thing }) => {
    const deadline = deadlines(state).find((d) => d.key === key)
    const plain = { key, bell: kind, dueAt, thing: { kind: kindOf(state, thing), id: thing } }
    return bellSaid(state, deadline ?? plain, words, now)
  })
  return [...new Set(said.map(({ says }) => says))].map((says) => {
    const of = said.filter((one) => one.says === says)
    return { about: of.map(({ about }) => about).join(', '), says }
  })
}

const cardLine = (...about: Parameters<typeof cardSaid>) =>
  cardSaid(...about)
    .map(({ about, says }) => `${about}: ${says}`)
    .join(' · ')

/** The panels that a card asks somebody to look at. */
const panelsOf = (state: State, card: Shown): string[] =>
  card.bells.flatMap(({ key, thing }) => {
    const deadline = deadlines(state).find((d) => d.key === key)
    return deadline?.panels ?? [thing]
  })

type BellCardProps = {
  readonly card: Shown
  readonly kiosk: Kiosk
  readonly state: State
  now: number
}

/** One bell that rings: word, shape, color and place, and what answers it. */
function BellCard({ card, kiosk, state, now }: BellCardProps) {
  const { words, format, send } = useShop()
  const { calling } = words.value
  const time = format.value.timeAndDay
  const { sound } = BELLS[card.kind]
  const late = card.kind === 'windowShut' ? calling.since : calling.due
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
        {cardSaid(state, card, words.value, now).map(({ about, says }) => (
          <span key={says}>
            <span class="of">{about}: </span>
            <span class="says">
              {says}
              {now - card.dueAt > LATE_MS && (
                <small data-soon={SOON.includes(card.kind)}>
                  {' '}
                  · {late(time(card.dueAt, now), shortLength(now - card.dueAt))}
                </small>
              )}
            </span>
          </span>
        ))}
        {card.heldUntilMs > now && (
          <small data-held> · {calling.held(countdown(card.heldUntilMs - now))}</small>
        )}
      </span>
      <span class="answers">
        {maySleep && (
          <Press act="snooze" onPress={snooze}>
            {words.value.act.snooze}
          </Press>
        )}
        {card.kind === 'look' ? (
          <LookButtons panels={panelsOf(state, card)} now={now} />
        ) : (
          <Press act="acknowledge" isMain onPress={acknowledge}>
            {words.value.act.acknowledge}
          </Press>
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
