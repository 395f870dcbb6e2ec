import { createActor, SimulatedClock } from 'xstate'
import { BELLS, type BellKind, reachesOf } from '../../machines/bell/kinds.ts'
import {
  type BellEvent,
  type BellSaid,
  bellMachine,
  bellState,
} from '../../machines/bell/machine.ts'

export const S = 1_000
export const MIN = 60_000
export const kinds = Object.keys(BELLS) as BellKind[]

type Ring = { turns?: boolean; escalateMs?: readonly [number, number] }

/** A bell that gets its turn whenever it wants one, unless it has to wait. */
export function ring(kind: BellKind, { turns = true, ...rules }: Ring = {}) {
  const clock = new SimulatedClock()
  const bell = createActor(bellMachine, { input: { key: 'k', kind, ...rules }, clock })
  const said: (BellSaid & { atMs: number })[] = []
  const hear = (e: BellSaid) => said.push({ ...e, atMs: clock.now() })
  bell.on('*', hear)
  const reached: (readonly [number, string])[] = []
  let reach = bell.getSnapshot().context.reach
  bell.subscribe((s) => {
    const isBack = s.context.reach === reachesOf(kind)[0]
    if (s.context.reach !== reach && !isBack) reached.push([clock.now() / S, s.context.reach])
    reach = s.context.reach
    if (turns && s.hasTag('wantsTurn')) bell.send({ type: 'TURN', atMs: clock.now() })
  })
  bell.start()
  return {
    bell,
    said,
    send: (e: BellEvent) => bell.send(e),
    now: () => clock.now(),
    due: () => bell.send({ type: 'DUE', atMs: clock.now() }),
    snooze: (forMs: number) => bell.send({ type: 'SNOOZE', atMs: clock.now(), forMs }),
    silence: () => bell.send({ type: 'SILENCE', atMs: clock.now() }),
    /** Second by second, as long waits would be. */
    wait: (ms: number) => {
      for (let left = ms; left > 0; left -= S) clock.increment(Math.min(S, left))
    },
    state: () => bellState(bell.getSnapshot()),
    plays: () => said.filter((e) => e.type === 'play').map((e) => e.atMs / S),
    reached: () => reached,
  }
}
