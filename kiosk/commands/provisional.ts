import { streamsOf } from '../../machines/catalog.ts'
import { parseCommand } from '../../machines/contract.ts'
import { decide } from '../../machines/decide.ts'
import type { Draft } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import type { RefusalCode } from '../../machines/refusals.ts'
import { type State, thingOf } from '../../machines/state.ts'
import { bodyOf, type Pressed, type QueuedCommand } from './queuedCommand.ts'
import type { Trouble } from './refusalText.ts'

/** What a kiosk makes of its commands while nobody answers them: decided and folded by the server's own rules. */

/** Just beyond what the server takes for live. */
const LATE_MS = 11_000
/** Not known here may be known to the server: a cup mixed elsewhere, a job that was closed. */
const IGNORANT: readonly RefusalCode[] = ['unknownThing', 'cupUnknown']

/**
 * What the rules say against a command at the moment of its press, as far as this kiosk knows.
 * @param state the shop with all that was pressed here
 * @returns null where nothing is said against it
 */
export function objection(state: State, command: Pressed): Trouble | null {
  const parsed = parseCommand(command)
  if (!parsed.ok) return { kind: 'wrong', error: parsed.error }
  const decided = decide(state, parsed.value, command.enteredAt)
  if ('error' in decided) return { kind: 'wrong', error: decided.error }
  if (!('refusal' in decided) || IGNORANT.includes(decided.refusal.code)) return null
  return { kind: 'refused', refusal: decided.refusal }
}

/** What the server will write when it gets this command: a late fact, judged at its own time. */
function draftsOf(state: State, queued: QueuedCommand, device: string): readonly Draft[] {
  const parsed = parseCommand(bodyOf(queued, device))
  if (!parsed.ok) return []
  const decided = decide(state, parsed.value, queued.command.enteredAt + LATE_MS)
  return 'drafts' in decided ? decided.drafts : []
}

/** Whether it is in the log already, and only the answer was lost. */
const isThere = (state: State, drafts: readonly Draft[]): boolean =>
  drafts.some((draft) =>
    streamsOf(draft).some((ref) => thingOf(state, ref)?.entries.some((e) => e.id === draft.id)),
  )

function withOne(state: State, queued: QueuedCommand, device: string): State {
  const drafts = draftsOf(state, queued, device)
  return isThere(state, drafts) ? state : drafts.reduce(fold, state)
}

export type Provisional = (base: State, queue: readonly QueuedCommand[], device: string) => State

type Last = {
  readonly base: State
  readonly queue: readonly QueuedCommand[]
  readonly state: State
}

/**
 * Folds what waits here on top of the confirmed state. It remembers its last result, so that one
 * more command costs one more decision.
 * @returns a function of the confirmed state and the waiting commands in order
 */
export function provisional(): Provisional {
  let last: Last | null = null
  return (base, queue, device) => {
    const from =
      last !== null && isBegun(last, base, queue) ? last : { base, queue: [], state: base }
    const state = queue
      .slice(from.queue.length)
      .reduce((folded, one) => withOne(folded, one, device), from.state)
    last = { base, queue, state }
    return state
  }
}

const isBegun = (last: Last, base: State, queue: readonly QueuedCommand[]): boolean =>
  last.base === base && last.queue.every((one, i) => queue[i]?.command === one.command)
