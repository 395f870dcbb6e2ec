import { effect, type ReadonlySignal, signal } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { answerBell } from '../bells/reporter.ts'
import { lastPress, lastUndone, type Press, undone } from '../commands/presses.ts'
import { type Trouble, troubleText } from '../commands/refusalText.ts'
import { isTaken, type Send, type Sent } from '../commands/send.ts'
import { again } from '../ui/again.ts'
import { formatOf } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import { NOTHING_SCANNED, type ScanPair } from './hand.ts'
import type { PedalSettings } from './pedal.ts'
import type { Kiosk } from './runtime.ts'
import type { Outcome, Todo } from './scanPair.ts'
import type { Awake } from './wakeLock.ts'

/** The result of a scan or a pedal, shown on every screen until the next one or for a while. */
type Said = {
  readonly kind: 'done' | 'problem'
  readonly text: string
  /** When a refusal ends by itself, UTC ms. */
  readonly clearsAt?: number
}

type Handsfree = {
  readonly said: ReadonlySignal<Said | null>
  readonly hand: ReadonlySignal<ScanPair>
  /** A code, from wherever it was read. */
  readonly scan: (text: string) => Promise<void>
  /** The pedal went down. @param panel the one that it is bound to; null for the one scanned last */
  readonly pedal: (panel: string | null) => Promise<void>
  readonly close: () => void
}

type HandsfreeSources = {
  readonly state: ReadonlySignal<State | null>
  readonly words: ReadonlySignal<Words>
  readonly kiosk: Pick<Kiosk, 'clock' | 'ringer' | 'speaker'>
  readonly send: Send
  /** Shows what a label says. */
  readonly show: (text: string) => void
  /** Back to what runs, after a pair has started a coat. */
  readonly home: () => void
  readonly wait: (ms: number) => Promise<void>
}

/** How long a message stays: a refusal has to be read, a confirmation only seen. */
const SAID_FOR_MS = { done: 8_000, problem: 30_000 } as const
/** What scans mean: fetched after the first frame, as nobody scans before it. */
export const scanPairs = () => again(() => import('./scanPair.ts'))

const BY_SCAN = { source: 'scan' } as const

export function handsfree(from: HandsfreeSources): Handsfree {
  const said = signal<Said | null>(null)
  const hand = signal(NOTHING_SCANNED)
  let last: Press | null = null
  // The bar for undoing goes after a few seconds; who undoes by scanner has to walk to the code first.
  effect(() => {
    last = lastPress.value ?? last
    if (last === lastUndone.value) last = null
  })
  // What was said of one scan ends with the next act, whoever did it and however.
  effect(() => {
    if (lastPress.value !== null) said.value = null
  })

  function say(next: Said): void {
    said.value = next
    from.kiosk.speaker.touch(next.kind === 'done' ? 'ok' : 'error')
    void from.wait(SAID_FOR_MS[next.kind]).then(() => {
      if (said.value === next) said.value = null
    })
  }

  const problem = (text: string) => say({ kind: 'problem', text })

  const seen = () => {
    const state = from.state.value
    const { nowMs: now } = from.kiosk.clock.read()
    return state && { state, words: from.words.value, now }
  }

  const reason = (of: Trouble): string => {
    const state = from.state.value
    const { nowMs: now } = from.kiosk.clock.read()
    const format = formatOf(state ? settingsOf(state) : {})
    return troubleText(of, { words: from.words.value, format, state, now })
  }

  /** One after another: what the second means depends on the first. */
  let turn: Promise<unknown> = Promise.resolve()
  const inTurn = (run: () => Promise<void>): Promise<void> => {
    const mine = turn.then(run)
    turn = mine.catch(() => {})
    return mine
  }

  async function scan(text: string): Promise<void> {
    const pairs = await scanPairs().catch(() => null)
    const now = seen()
    // Before the shop's state has arrived, or its meaning, a label can still be read.
    const { hand: next, todo }: Outcome =
      now && pairs
        ? pairs.scanned(hand.value, text, now)
        : { hand: hand.value, todo: { kind: 'show' } }
    const isPair = hand.value.waiting !== null && next.waiting === null
    hand.value = next
    if (todo.kind === 'show') {
      said.value = null
      from.show(text)
    } else if ((await act(todo, text)) && isPair) from.home()
  }

  async function pedal(panel: string | null): Promise<void> {
    const pairs = await scanPairs().catch(() => null)
    const now = seen()
    const todo = now && pairs?.mainAct(panel, now, hand.value.panel)
    if (todo && todo.kind !== 'show') await act(todo)
  }

  /** True when it was done. */
  async function act(todo: Exclude<Todo, { kind: 'show' }>, text = ''): Promise<boolean> {
    switch (todo.kind) {
      case 'problem':
        if (todo.isShown) from.show(text)
        problem(todo.says)
        return false
      case 'acknowledge':
        return acknowledge()
      case 'undo':
        return await undo()
      case 'send':
        return heard(await from.send(todo.type, todo.data, BY_SCAN), todo.says)
    }
  }

  /** Says what became of a command. */
  function heard(sent: Sent, says: string): boolean {
    const { handsfree: words, notSent } = from.words.value
    if (isTaken(sent)) {
      say({ kind: 'done', text: sent.kind === 'queued' ? `${says} · ${words.notYetSent}` : says })
      return true
    }
    const clearsAt = sent.kind === 'refused' ? sent.refusal.clearsAt : undefined
    const text = `${says}: ${sent.kind === 'away' ? notSent : reason(sent)}`
    say({ kind: 'problem', text, ...(clearsAt === undefined ? {} : { clearsAt }) })
    return false
  }

  function acknowledge(): boolean {
    const words = from.words.value.handsfree
    const { cards } = from.kiosk.ringer.bells.value
    const [card] = cards.filter(({ state }) => state !== 'acknowledged' && state !== 'snoozed')
    if (!card) {
      problem(words.noBell)
      return false
    }
    if (card.state === 'missed') from.kiosk.ringer.view(card.key)
    else from.kiosk.ringer.acknowledge(card.key)
    const state = from.state.value
    const byScan: Send = (type, data) => from.send(type, data, BY_SCAN)
    if (state) void answerBell(byScan, state, card)
    say({ kind: 'done', text: words.bellAnswered })
    return true
  }

  async function undo(): Promise<boolean> {
    const words = from.words.value.handsfree
    if (last === null) {
      problem(words.nothingToUndo)
      return false
    }
    const press = last
    const left = await undone(press, (data) => from.send('VoidEntry', data, BY_SCAN))
    if (left) return heard(left, words.codes.UNDO)
    say({
      kind: 'done',
      text: `${words.undone} · ${from.words.value.outbox.does[press.type] ?? ''}`,
    })
    return true
  }

  return {
    said,
    hand,
    scan: (text) => inTurn(() => scan(text)),
    pedal: (panel) => inTurn(() => pedal(panel)),
    close: () => {
      said.value = null
    },
  }
}

type Hands = {
  readonly hands: Handsfree
  readonly pedal: PedalSettings
  readonly awake: ReadonlySignal<Awake>
}

const Context = createContext<Hands | null>(null)

export const HandsProvider = Context.Provider

/** Scanner, camera, pedal and display of this kiosk. */
export function useHands(): Hands {
  const hands = useContext(Context)
  if (hands === null) throw new Error('This screen stands outside its kiosk.')
  return hands
}
