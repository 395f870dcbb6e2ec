import { computed, signal } from '@preact/signals'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import { isTaken, type Send, type Sent } from './send.ts'

/** What was last pressed on this kiosk: for the undo bar, and for whose prompts wait. */

/** One touch. Its commands are undone together, the last one first. */
export type Press = {
  readonly type: CommandType
  readonly commands: readonly string[]
  readonly panels: readonly string[]
}

/** Null once it was undone, or can be no longer. */
export const lastPress = signal<Press | null>(null)

/** How many presses that can be undone have no answer yet. */
const onTheWay = signal(0)

/**
 * What the undo bar offers: while a press is on its way nothing, since it would take back the one before, which nobody
 * means who has just pressed.
 */
export const offered = computed(() => (onTheWay.value > 0 ? null : lastPress.value))

/** What was undone last. The undo bar also closes by itself; what it showed can still be undone then. */
export const lastUndone = signal<Press | null>(null)

/** Commands by which this kiosk started coats, the newest last. */
export const startedHere = signal<readonly string[]>([])
const STARTS_KEPT = 60

/** What the undo bar may undo: facts about work and what was measured or heard, not bells, settings or labels. */
const UNDOABLE: readonly CommandType[] = [
  'StartCoat',
  'ContinueCoat',
  'FinishCoat',
  'InspectCoat',
  'ReachCover',
  'AbradePanel',
  'DenibPanel',
  'StartCure',
  'ReadPart',
  'EndCure',
  'PolishPanel',
  'PassPanel',
  'SendBackPanel',
  'DoPrepStep',
  'SkipStep',
  'MovePanel',
  'RemovePanel',
  'AddPanel',
  'SetRoute',
  'OpenJob',
  'CloseJob',
  'PauseJob',
  'ResumeJob',
  'MixCup',
  'PourCup',
  'EmptyCup',
  'LoadGun',
  'PourBack',
  'RinseGun',
  'CleanGun',
  'MoveCup',
  'CheckCup',
  'MeasureCup',
  'SetAirMovers',
  'SetDayRange',
  'SetShopFigure',
  'BreakOffCoat',
  'ReadFilm',
  'ReadClimate',
  'ClearZone',
  'PurgeZone',
  'TestSound',
  'CommissionLevel',
  'RecordTraining',
  'ServiceFilter',
  'UseSolvent',
  'SettleDeviation',
  'ReviewCause',
]

const panelsIn = (data: object): string[] => {
  const { panels, panel } = data as { panels?: string[]; panel?: string }
  return panels ?? (panel === undefined ? [] : [panel])
}

let group: Press | null = null

function note(type: CommandType, data: object, command: string): void {
  if (type === 'StartCoat') startedHere.value = [...startedHere.value, command].slice(-STARTS_KEPT)
  if (!UNDOABLE.includes(type)) return
  const joined = group !== null && group.type === type ? group : null
  const press = {
    type,
    commands: [...(joined?.commands ?? []), command],
    panels: [...(joined?.panels ?? []), ...panelsIn(data)],
  }
  if (group !== null) group = press
  lastPress.value = press
}

/** Commands that one touch sends, one after another: one thing to undo. */
export async function asOneTouch(type: CommandType, run: () => Promise<void>): Promise<void> {
  group = { type, commands: [], panels: [] }
  try {
    await run()
  } finally {
    group = null
  }
}

/**
 * Voids the commands of one touch, the last one first. Nothing is deleted: a void is an entry.
 * @returns null when all are undone, else the answer to the first that is not
 */
export async function undone(
  press: Press,
  send: (data: CommandInput<'VoidEntry'>) => Promise<Sent>,
): Promise<Sent | null> {
  for (const command of press.commands.toReversed()) {
    const sent = await send({ command, reason: 'MISTAP' })
    if (!isTaken(sent)) return sent
  }
  lastUndone.value = press
  if (lastPress.value === press) lastPress.value = null
  return null
}

/** Sends as before, and notes what was taken. Wraps the one sender of a kiosk (main.tsx). */
export const noting =
  (send: Send): Send =>
  async (type, data, extra) => {
    const isUndoable = UNDOABLE.includes(type)
    if (isUndoable) onTheWay.value += 1
    try {
      const sent = await send(type, data, extra)
      // A command that added nothing leaves nothing to undo.
      const isSomething = sent.kind === 'kept' ? sent.entries.length > 0 : isTaken(sent)
      if (isSomething && isTaken(sent)) note(type, data, sent.id)
      return sent
    } finally {
      if (isUndoable) onTheWay.value -= 1
    }
  }
