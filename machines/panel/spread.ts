import { byOccurrence, type Draft } from '../envelope.ts'
import type { Folded, Spraying } from '../replay.ts'
import { lastCoat, type PanelContext } from './context.ts'
import type { FactOf } from './events.ts'

/**
 * The finishes of a pass are spread backwards from the press that ended it, by what was sprayed after
 * each panel. Which coat a finish ends is what the panel was at when it was pressed; it ends when it
 * was spread to, but never before that coat began. The time that its entry has says what was known of
 * that when it was decided.
 */

type Finish = FactOf<'CoatFinished'>['data']

/** When the press came, UTC ms: a finish of a pass happened before it. */
export const pressedAt = ({ at, data }: Draft): number => (data as Finish).passEndsAt ?? at

/** Whether an entry is a finish of a pass in which a panel was sprayed later. */
export const isSprayedBefore = ({ data }: Draft, panel: string): boolean =>
  (data as Finish).after?.some((one) => one.panel === panel) ?? false

const isSpread = ({ type, data }: Draft): boolean =>
  type === 'CoatFinished' && data.passEndsAt !== undefined

const atPress = (entry: Draft): Draft => ({ ...entry, at: pressedAt(entry) })

const byPress = (a: Draft, b: Draft): number => byOccurrence(atPress(a), atPress(b))

/**
 * When a panel of a pass was finished: a coat never ends before it began, nor before the one before it, nor
 * before its panel was there. Who adds the panels once they are sprayed presses FINISHED soon after; a press of
 * before that was on no panel, as on the last one of its pass.
 * @param panel as it was at the press
 * @param pressAt UTC ms
 * @param spreadAt the press, less what was sprayed since, UTC ms
 */
export function endOf(
  panel: PanelContext,
  startedAt: number | undefined,
  pressAt: number,
  spreadAt: number,
): number {
  const added = panel.stays.find(({ fromMs }) => fromMs <= pressAt)?.fromMs
  const begun = panel.open
    ? [panel.open.startedAt]
    : [startedAt, lastCoat(panel)?.finishedAt, added]
  return Math.max(spreadAt, ...begun.map((at) => at ?? spreadAt))
}

/** A finish as it is folded: at its own time, by what is known by now of the panels after it. */
function timed(finish: Draft, panel: PanelContext, by: Spraying): Draft {
  const { after, startedAt } = finish.data as Finish
  const press = pressedAt(finish)
  // Entries of before did not say what was sprayed after them: theirs is the time that they have.
  const spreadAt = (after ?? []).reduce(
    (at, one) => at - (by.sprayMs(one.panel, press) ?? one.sprayMs),
    after ? press : finish.at,
  )
  return { ...finish, at: endOf(panel, startedAt, press, spreadAt) }
}

/** A panel's entries in the order of their times, where each finish of a pass is given the one it has. */
export function asPressed<V>(
  entries: readonly Draft[],
  by: Spraying,
  blank: Folded<PanelContext, V>,
  step: (before: Folded<PanelContext, V>, entry: Draft) => Folded<PanelContext, V>,
): readonly Draft[] {
  if (!entries.some(isSpread)) return entries
  const all: Draft[] = []
  let folded = blank
  for (const entry of entries.toSorted(byPress)) {
    const then = isSpread(entry) ? timed(entry, folded.context, by) : entry
    const isLast = (all.at(-1)?.at ?? 0) <= then.at
    all.push(then)
    // What was pressed before it may have happened after: the panel is then what that makes of it.
    if (!isLast) all.sort((a, b) => a.at - b.at)
    folded = isLast ? step(folded, then) : all.reduce(step, blank)
  }
  return all
}

/** An entry behind all others of its panel, at its time; undefined where others were pressed after that. */
export function lastPressed(
  before: { readonly context: PanelContext; readonly entries: readonly Draft[] },
  entry: Draft,
  by: Spraying,
): Draft | undefined {
  const then = isSpread(entry) ? timed(entry, before.context, by) : entry
  // Spread to the beginning of a panel it may be later than its press.
  const isPressedBefore = (e: Draft) => then === entry || byPress(e, entry) <= 0
  const isBefore = (e: Draft) =>
    e.at <= then.at && (!isSpread(e) || pressedAt(e) < then.at) && isPressedBefore(e)
  return before.entries.every(isBefore) ? then : undefined
}

/**
 * A cup's entries, where each finish of a pass is at its press: spread to before the cup was mixed, the
 * panel was never sprayed from it.
 */
export const byPresses = {
  arranged: (entries: readonly Draft[]): readonly Draft[] =>
    entries.map(atPress).toSorted(byOccurrence),
  last: ({ entries }: { readonly entries: readonly Draft[] }, entry: Draft): Draft | undefined =>
    entries.every((e) => byPress(e, entry) <= 0) ? atPress(entry) : undefined,
}
