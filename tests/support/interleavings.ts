import { expect } from 'vitest'
import type { AnyCommand } from '../../machines/contract.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { FinishedCoat, PanelContext } from '../../machines/panel/context.ts'
import type { State } from '../../machines/state.ts'
import { bare, expectSame } from './randomStates.ts'
import { minute, type Shop } from './shop.ts'

/** What kiosks that were offline kept, delivered in every order that keeps each kiosk's own. */

/** What a kiosk kept, in the order of its presses. */
export type Queue = readonly AnyCommand[]

/** All ways to take from queues in turn, each as the numbers of the queues. */
export function interleavings(lengths: readonly number[]): number[][] {
  if (lengths.every((length) => length === 0)) return [[]]
  return lengths.flatMap((length, i) =>
    length === 0 ? [] : interleavings(lengths.with(i, length - 1)).map((rest) => [i, ...rest]),
  )
}

export type Told = { readonly id: string; readonly refused: boolean; readonly outside: string }

/** A shop after its queues came in one order, and what each command was answered. */
export type Delivered = { readonly shop: Shop; readonly told: readonly Told[] }

export function deliver(
  before: Shop,
  queues: readonly Queue[],
  order: readonly number[],
): Delivered {
  const shop = before.fork()
  const next = queues.map(() => 0)
  const told = order.map((i): Told => {
    const command = queues[i]?.[next[i] as number] as AnyCommand
    next[i] = (next[i] as number) + 1
    const answer = shop.arrive(command)
    shop.now += 50
    return {
      id: command.id,
      refused: !('drafts' in answer),
      outside:
        'drafts' in answer ? JSON.stringify(answer.drafts.flatMap((d) => d.outside ?? [])) : '',
    }
  })
  return { shop, told }
}

/** A start that nobody reported is the estimate of the day on which it was made. */
function withoutEstimate(coat: FinishedCoat): object {
  return coat.isEstimated ? { ...coat, startedAt: null } : coat
}

/** What must not depend on the order: what every thing came to, and every deadline with its bell. */
export function outcome(state: State): object {
  const { panel, ...things } = bare(state) as Record<string, Record<string, object>>
  const panels = Object.entries(panel ?? {}).map(([id, thing]) => {
    const { value, context } = thing as { value: unknown; context: PanelContext }
    return [
      id,
      { value, context: { ...context, coats: context.coats.map(withoutEstimate) } },
    ] as const
  })
  const others = Object.entries(things).map(([kind, ofKind]) => {
    const all = Object.entries(ofKind).map(
      ([id, thing]) => [id, { ...thing, notTaken: [] }] as const,
    )
    return [kind, Object.fromEntries(all)] as const
  })
  return {
    panel: Object.fromEntries(panels),
    ...Object.fromEntries(others),
    deadlines: deadlines(state),
  }
}

/** Commands that were decided when all that happened before them was known. */
export function knowingAll(queues: readonly Queue[], order: readonly number[]): string[] {
  const all = queues.flat()
  const next = queues.map(() => 0)
  const come = new Set<string>()
  return order.flatMap((i) => {
    const command = queues[i]?.[next[i] as number] as AnyCommand
    next[i] = (next[i] as number) + 1
    const isMissing = all.some(
      (c) => !come.has(c.id) && c !== command && timeOf(c) <= timeOf(command),
    )
    come.add(command.id)
    return isMissing ? [] : [command.id]
  })
}

export const timeOf = ({ at = 0 }: AnyCommand): number => at

/** A press of a kiosk: the minute, and what was pressed. */
export type Press = readonly [min: number, type: string, data: object]

const queueOf = (shop: Shop, device: string, presses: readonly Press[]): AnyCommand[] =>
  presses.map(([min, type, data], seq) =>
    shop.parse(type, data, {
      id: `${device}-${seq}`,
      device,
      seq,
      at: minute(min),
      enteredAt: minute(min),
    }),
  )

/** The shop after every order in which two queues can come; they must all be the same. */
export function inAnyOrder(shop: Shop, first: readonly Press[], second: readonly Press[]): Shop {
  const queues: Queue[] = [queueOf(shop, 'k1', first), queueOf(shop, 'k2', second)]
  const all = interleavings(queues.map((q) => q.length)).map((order) => ({
    order,
    ...deliver(shop, queues, order),
  }))
  const [one, ...others] = all
  if (!one) throw new Error('nothing was delivered')
  for (const other of all) {
    const refused = other.told.filter((t) => t.refused).map((t) => t.id)
    expect(refused, `refused in the order ${other.order}`).toEqual([])
  }
  for (const other of others) {
    expectSame(outcome(other.shop.state), outcome(one.shop.state), `order ${other.order}`)
  }
  return one.shop
}
