import { asJson } from './asJson.ts'
import { EVENTS } from './catalog.ts'
import type { Deciding, NewFact } from './deciding.ts'
import type { Draft } from './envelope.ts'

/** Facts as drafts, each the JSON that it will be in the log: with ids counted from `first`, the command's times, device and person. */
export function stamp(d: Deciding, facts: readonly NewFact[], first = 0): Draft[] {
  const { command } = d
  return facts.map((fact, i) =>
    asJson<Draft>({
      shop: d.state.shop,
      id: `${command.id}.${first + (fact.n ?? i)}`,
      type: fact.type,
      version: EVENTS[fact.type].version,
      at: fact.at ?? d.at,
      enteredAt: d.enteredAt,
      device: command.device ?? null,
      by: command.by ?? null,
      command: command.id,
      // Without a device there is no count: the log's position is used instead.
      seq: command.device === undefined ? null : (command.seq ?? null),
      ...(command.clockOffsetMs === undefined ? {} : { clockOffsetMs: command.clockOffsetMs }),
      ...(command.source === undefined ? {} : { source: command.source }),
      ...fact.keys,
      data: fact.data as Draft['data'],
      ...reasonOf(d, fact),
      ...fact.marks,
      ...(fact.corrects === undefined ? {} : { corrects: fact.corrects }),
    }),
  )
}

function reasonOf(d: Deciding, fact: NewFact): { reason?: string } {
  const reason = fact.reason ?? d.command.reason
  return reason === undefined ? {} : { reason }
}
