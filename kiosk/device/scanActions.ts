import type { Signal } from '@preact/signals'
import { settingsOf } from '../../machines/shop/settings.ts'
import { answerBell } from '../bells/reporter.ts'
import { type Press, undone } from '../commands/presses.ts'
import { type Trouble, troubleText } from '../commands/refusalText.ts'
import { isTaken, type Send, type Sent } from '../commands/send.ts'
import { formatOf } from '../units/format.ts'
import type { HandsfreeSources, Said, ScanPair } from './hand.ts'
import { mainAct, type Outcome, scanned, type Todo } from './scanPair.ts'

/** Carries out what a scan or the pedal asks for, and says the result. */

const BY_SCAN = { source: 'scan' } as const

type ScanSources = HandsfreeSources & {
  readonly said: Signal<Said | null>
  readonly hand: Signal<ScanPair>
  readonly say: (next: Said) => void
  /** What UNDO would undo. */
  readonly last: () => Press | null
}

/** Call these one after another: the meaning of the second scan depends on the first. */
export function scanActions({ said, hand, ...from }: ScanSources) {
  const problem = (text: string) => from.say({ kind: 'problem', text })

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

  async function scan(text: string): Promise<void> {
    const now = seen()
    // Before the shop's state has arrived a label can still be read.
    const { hand: next, todo }: Outcome = now
      ? scanned(hand.value, text, now)
      : { hand: hand.value, todo: { kind: 'show' } }
    const isPair = hand.value.waiting !== null && next.waiting === null
    hand.value = next
    if (todo.kind === 'show') {
      said.value = null
      from.show(text)
    } else if ((await act(todo, text)) && isPair) from.home()
  }

  async function pedal(panel: string | null): Promise<void> {
    const now = seen()
    const todo = now && mainAct(panel, now, hand.value.panel)
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
        return heard(await from.send(todo.type, todo.data, BY_SCAN), todo.does, todo.to)
    }
  }

  /** Says what became of a command. */
  function heard(sent: Sent, does: string, to?: string): boolean {
    const { handsfree: words, notSent } = from.words.value
    // A refusal names the panels that it is about.
    const isNamed = sent.kind === 'refused' && (sent.refusal.panels?.length ?? 0) > 0
    const says = to === undefined || isNamed ? does : `${does} · ${to}`
    if (isTaken(sent)) {
      from.say({
        kind: 'done',
        text: sent.kind === 'queued' ? `${says} · ${words.notYetSent}` : says,
      })
      return true
    }
    const clearsAt = sent.kind === 'refused' ? sent.refusal.clearsAt : undefined
    const text = `${says}: ${sent.kind === 'away' ? notSent : reason(sent)}`
    from.say({ kind: 'problem', text, ...(clearsAt === undefined ? {} : { clearsAt }) })
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
    from.say({ kind: 'done', text: words.bellAnswered })
    return true
  }

  async function undo(): Promise<boolean> {
    const words = from.words.value.handsfree
    const press = from.last()
    if (press === null) {
      problem(words.nothingToUndo)
      return false
    }
    const left = await undone(press, (data) => from.send('VoidEntry', data, BY_SCAN))
    if (left) return heard(left, words.codes.UNDO)
    from.say({
      kind: 'done',
      text: `${words.undone} · ${from.words.value.outbox.does[press.type] ?? ''}`,
    })
    return true
  }

  return { scan, pedal }
}
