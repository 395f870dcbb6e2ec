import type { CommandType } from '../../machines/commands.ts'
import type { AnyCommand } from '../../machines/contract.ts'
import { dueStep } from '../../machines/panel/context.ts'
import { routeState } from '../../machines/panel/where.ts'
import type { State } from '../../machines/state.ts'
import { isAccepted, RandomDay, type Sent } from './randomDay.ts'
import type { Intent } from './randomDice.ts'
import { MINUTE } from './shop.ts'

/** A day on which three devices were offline: what each of them kept, and what the bench said online. */

/**
 * Said at the bench or the desk, which are online: what the others work with. A limit of the shop is
 * one that is known when a coat is decided.
 */
const ONLINE: readonly CommandType[] = [
  'MixCup',
  'PourCup',
  'OpenJob',
  'AddPanel',
  'SaveSheet',
  'ChangeSettings',
]
/**
 * Not in the queues: what says only "this cure is over" or "this panel is done" takes
 * its meaning from what is known when it is decided; and bells and voids name what others recorded.
 */
const LEFT_OUT: readonly CommandType[] = [
  'EndCure',
  'PassPanel',
  'RingBell',
  'AcknowledgeBell',
  'SnoozeBell',
  'EscalateBell',
  'HoldBell',
  'VoidEntry',
  // Of two within ten minutes the one that arrives first is kept.
  'ReportSleep',
  // Said long ago it says nothing.
  'ConfirmClock',
  // An end of a flood that begins only later in the queue says nothing.
  'ReportFlood',
]

export type Offline = {
  readonly online: readonly Sent[]
  readonly kept: readonly AnyCommand[]
  readonly until: number
}

/** A coat's end as sent by somebody who holds the cup: of one panel, with its cup. */
function told({ command, before }: Sent): AnyCommand | null {
  if (command.type === 'StartCoat') return command.data.panels.length === 1 ? command : null
  if (command.type !== 'FinishCoat') return command
  const [panel, ...others] = command.data.panels
  const context = before.things.panel[panel ?? '']?.context
  const cup = command.data.cup ?? context?.open?.cups.at(-1)
  if (others.length > 0 || cup === undefined) return null
  return { ...command, data: { ...command.data, cup } }
}

/** When it happened stays with it, however late it is sent. */
function dated({ command, now }: Sent): AnyCommand {
  const at = command.at ?? now
  return { ...command, at, enteredAt: at }
}

export function offlineDay(intents: readonly Intent[]): Offline {
  const day = new RandomDay().open()
  const opening = day.sent.length
  for (const i of intents) {
    day.play({ ...i, device: 1 + (i.device % 3), isOffline: false, isSensed: false, backMin: 0 })
  }
  const said = day.sent.slice(opening).filter(isAccepted)
  const online = said.filter((s) => ONLINE.includes(s.command.type))
  const kept = said
    .filter((s) => ![...ONLINE, ...LEFT_OUT].includes(s.command.type))
    .flatMap((s) => told({ ...s, command: dated(s) }) ?? [])
  return { online, kept, until: day.now + MINUTE }
}

export type Delivered = { readonly day: RandomDay; readonly counts: readonly (number | null)[] }

/**
 * Delivers the queues, each in its own order, one command from some queue at a time.
 * @returns how many entries each command came to, null for one that was refused
 */
export function deliver({ online, kept, until }: Offline, order: readonly number[]): Delivered {
  const day = new RandomDay().open()
  for (const one of online) {
    day.shop.now = Math.max(day.now, one.now)
    day.arrive(dated(one))
  }
  day.shop.now = until
  const queues = new Map<string, AnyCommand[]>()
  for (const c of kept) queues.set(c.device ?? '', [...(queues.get(c.device ?? '') ?? []), c])
  const opening = day.sent.length
  for (let i = 0; queues.size > 0; i += 1) {
    const names = [...queues.keys()].sort()
    const name = names[(order[i % order.length] ?? 0) % names.length] as string
    const [next, ...rest] = queues.get(name) ?? []
    if (rest.length > 0) queues.set(name, rest)
    else queues.delete(name)
    if (next) day.arrive(next)
    day.shop.now += 50
  }
  const late = day.sent.slice(opening)
  const answers = new Map(late.map(({ command, answer }) => [command.id, answer]))
  const counts = kept.map(({ id }) => {
    const answer = answers.get(id)
    return answer && 'drafts' in answer ? answer.drafts.length : null
  })
  return { day, counts }
}

/** What must not depend on the order of delivery: the states of panels, what is on, what is empty. */
export function standing({ things }: State): object {
  const panel = Object.entries(things.panel).map(([id, t]) => {
    const panel = t.context
    const { status, coats, open } = panel
    const counted = coats.filter((c) => c.counts).map((c) => c.step)
    // Whether a removed panel's prompts are on says nothing: it has none.
    const value = routeState(t.value) === 'removed' ? 'removed' : t.value
    return [id, { value, due: dueStep(panel), status, counted, open: open?.step ?? null }] as const
  })
  const cup = Object.entries(things.cup).map(([id, t]) => {
    return [
      id,
      { value: t.value, emptiedAt: (t.context as { emptiedAt: unknown }).emptiedAt },
    ] as const
  })
  return { panel: Object.fromEntries(panel), cup: Object.fromEntries(cup) }
}
