import { type PrintedCommand, readCommandCode } from '../../labels/code.ts'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import type { State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'
import { actsOf } from '../lanes/acts.ts'
import { lanesOf } from '../lanes/lanes.ts'
import { type What, whatIs } from '../lanes/what.ts'
import type { Words } from '../words/en.ts'
import type { ScanPair } from './hand.ts'
import { cupInHand, type Target, targetOf } from './targets.ts'

/** What a scan leads to, and what the next one will mean. Pure. */

const PAIR_WITHIN_MS = 60_000

/** `does` and `to`: what is done and to what, in the painter's words. */
type ToSend<T extends CommandType> = {
  readonly kind: 'send'
  readonly type: T
  readonly data: CommandInput<T>
  readonly does: string
  readonly to: string
}

export type Todo =
  | ToSend<CommandType>
  | { readonly kind: 'acknowledge' | 'undo' }
  /** Shown on Scan; nothing is done. */
  | { readonly kind: 'show' }
  /** `isShown`: what could be read of the label is shown too. */
  | { readonly kind: 'problem'; readonly says: string; readonly isShown?: boolean }

const toSend = <T extends CommandType>(
  type: T,
  data: CommandInput<T>,
  does: string,
  to: string,
): ToSend<T> => ({ kind: 'send', type, data, does, to })

export type Outcome = { readonly hand: ScanPair; readonly todo: Todo }

type Seen = { readonly state: State; readonly words: Words; readonly now: number }

/** @param text as a scanner, a camera or a hand gave it */
export function scanned(hand: ScanPair, text: string, seen: Seen): Outcome {
  const code = readCommandCode(text)
  if (code?.kind === 'command') return { hand, todo: commanded(code.command, hand, seen) }
  if (code?.kind === 'problem')
    return problem(hand, seen.words.handsfree.problems[code.code](code.said))
  const what = whatIs(seen.state, text, seen.now)
  switch (what.kind) {
    case 'panel':
      return paired(hand, 'panel', what.id, seen)
    case 'cup':
      return paired(hand, 'cup', what.id, seen)
    case 'problem':
      // Another shop's cup is shown as its label reads.
      return what.problem.says?.kind === 'cup'
        ? { hand, todo: { kind: 'problem', says: labelProblem(what, seen), isShown: true } }
        : problem(hand, labelProblem(what, seen))
    case 'unknown':
      return problem(hand, seen.words.scan.unknown(what.id))
    case 'many':
      return problem(hand, seen.words.scan.many(what.prefix))
    case 'nothing':
      return problem(hand, seen.words.handsfree.nothing)
    case 'label':
    case 'job':
    case 'thing':
      return { hand, todo: { kind: 'show' } }
  }
}

const labelProblem = (what: Extract<What, { kind: 'problem' }>, { words }: Seen): string =>
  words.said.labels[what.problem.code](...what.problem.names)

const problem = (hand: ScanPair, says: string): Outcome => ({
  hand,
  todo: { kind: 'problem', says },
})

function paired(hand: ScanPair, of: 'panel' | 'cup', id: string, seen: Seen): Outcome {
  const waits = hand.waiting
  const isPair = waits && waits.of !== of && seen.now - waits.atMs <= PAIR_WITHIN_MS
  const now = { ...hand, [of]: id }
  if (!isPair) return { hand: { ...now, waiting: { of, atMs: seen.now } }, todo: { kind: 'show' } }
  return { hand: { ...now, waiting: null }, todo: pair(now.panel ?? '', now.cup ?? '', seen) }
}

/** A coat on this panel from this cup: its start, or going on where one runs. */
function pair(panel: string, cup: string, { state, words, now }: Seen): Todo {
  const lane = lanesOf(state, now).find((l) => l.panel === panel)
  const act = (lane ? actsOf(state, lane, words, now) : []).find(
    ({ type, data }) => (type === 'StartCoat' || type === 'ContinueCoat') && data.cup === cup,
  )
  const name = panelName(state, panel)
  if (act) return toSend(act.type, act.data, act.label, name)
  // No lane offers it: the server's refusal says why.
  return toSend('StartCoat', { panels: [panel], cup }, words.handsfree.codes.COATSTART, name)
}

function commanded(command: PrintedCommand, hand: ScanPair, seen: Seen): Todo {
  if (command === 'ACK') return { kind: 'acknowledge' }
  if (command === 'UNDO') return { kind: 'undo' }
  if (command === 'CUPEMPTY') return emptied(hand, seen)
  if (command === 'PAUSE' || command === 'RESUME') return paused(command, hand, seen)
  const target = targetOf(command, hand, seen)
  return target === null
    ? { kind: 'problem', says: seen.words.handsfree.nobody(seen.words.handsfree.codes[command]) }
    : aimed(command, target, seen)
}

function aimed(command: PrintedCommand, target: Target, { state, words }: Seen): Todo {
  const { handsfree } = words
  const code = handsfree.codes[command]
  switch (target.kind) {
    case 'act': {
      const { act, lane } = target
      return toSend(act.type, act.data, act.label, panelName(state, lane.panel))
    }
    case 'notNow':
      return { kind: 'problem', says: handsfree.notNow(panelName(state, target.lane.panel), code) }
    case 'nobody':
      return { kind: 'problem', says: handsfree.nobody(code) }
    case 'several':
      return { kind: 'problem', says: handsfree.several(code) }
  }
}

function emptied(hand: ScanPair, { state, words, now }: Seen): Todo {
  const cup = cupInHand(state, hand, now)
  if (cup === null) return { kind: 'problem', says: words.handsfree.whichCup }
  const { CUPEMPTY } = words.handsfree.codes
  return toSend('EmptyCup', { cup, how: 'discarded' }, CUPEMPTY, cup.slice(0, 4))
}

/** The job of the panel in hand, else the only one in work. */
function paused(command: 'PAUSE' | 'RESUME', hand: ScanPair, { state, words, now }: Seen): Todo {
  const lanes = lanesOf(state, now)
  const held = lanes.find(({ panel }) => panel === hand.panel)
  const jobs = [...new Set((held ? [held] : lanes).map(({ job }) => job))]
  const [job, another] = jobs
  const code = words.handsfree.codes[command]
  if (job === undefined) return { kind: 'problem', says: words.handsfree.nobody(code) }
  if (another !== undefined) return { kind: 'problem', says: words.handsfree.several(code) }
  const title = lanes.find((lane) => lane.job === job)?.jobTitle ?? job
  const type = command === 'PAUSE' ? 'PauseJob' : 'ResumeJob'
  return toSend(type, { job }, code, title)
}

/**
 * The one main act of a lane: what a foot pedal does.
 * @param bound the panel that the pedal was set to; null for the one scanned last. A pedal whose own
 *   panel is no longer in progress needs a scan: it never moves to another by itself.
 */
export function mainAct(
  bound: string | null,
  { state, words, now }: Seen,
  last: string | null = null,
): Todo {
  const lanes = lanesOf(state, now)
  const of = (panel: string | null) => lanes.find((lane) => lane.panel === panel)
  const only = bound === null && lanes.length === 1 ? lanes[0] : undefined
  const lane = of(bound) ?? only ?? of(last)
  if (!lane) return { kind: 'problem', says: words.handsfree.pedalNobody }
  const act = actsOf(state, lane, words, now).find(({ isMain }) => isMain)
  if (!act)
    return { kind: 'problem', says: words.handsfree.pedalNothing(panelName(state, lane.panel)) }
  return toSend(act.type, act.data, act.label, panelName(state, lane.panel))
}
