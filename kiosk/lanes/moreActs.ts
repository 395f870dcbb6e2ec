import { lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { Words } from '../words/en.ts'
import { type Act, type ActOf, actsOf } from './acts.ts'
import type { Lane } from './lanes.ts'

/** What else a touch on a lane offers, beside what is expected. */

const MINUTE_MS = 60_000
/** "Finished n minutes ago", up to the longest time that needs no reason. */
const AGO_MIN: readonly number[] = [1, 2, 3, 5, 10]
const KINDS = ['light', 'drop', 'blend'] as const
const RESULTS = ['good', 'nibsOut', 'run', 'dry', 'mottle', 'fisheye', 'notCovered'] as const

/**
 * All that may be done with a lane, the expected first.
 * @param now kiosk time, UTC ms
 */
export function allActsOf(state: State, lane: Lane, words: Words, now: number): Act[] {
  const panel = contextOf(state, 'panel', lane.panel)
  if (!panel) return []
  const acts = actsOf(state, lane, words, now)
  // Those of the step that is due: "one more" names the step before it.
  const starts = acts
    .filter((act) => act.type === 'StartCoat')
    .filter(({ data }) => data.step === undefined)
  const canLook = lane.waits.for !== 'spraying' && lane.waits.for !== 'cure'
  return [
    ...acts,
    ...agoActs(lane, words, now),
    ...aloneActs(starts, words),
    ...kindActs(starts, words),
    ...(canLook ? inspectActs(panel, lane, words) : []),
  ]
}

/** The coat was over before anybody came to press: one touch each, never from before its start. */
function agoActs(lane: Lane, words: Words, now: number): Act[] {
  const { waits } = lane
  if (waits.for !== 'spraying') return []
  return AGO_MIN.filter((min) => now - min * MINUTE_MS > waits.since).map((min) => ({
    key: `ago-${min}`,
    label: words.board.ago(min),
    type: 'FinishCoat',
    data: { panels: [lane.panel] },
    agoMin: min,
    group: 'ago',
  }))
}

/** Nobody pressed start: the finish alone tells the coat, from the cup that was meant. */
const aloneActs = (starts: readonly ActOf<'StartCoat'>[], words: Words): Act[] =>
  starts.slice(0, 1).map(({ data }) => ({
    key: 'alone',
    label: words.board.alone,
    small: words.board.aloneSmall(data.cup.slice(0, 4)),
    type: 'FinishCoat',
    data: { panels: data.panels, cup: data.cup },
  }))

/** Other kinds of coat from the first cup. */
const kindActs = (starts: readonly ActOf<'StartCoat'>[], words: Words): Act[] =>
  starts.slice(0, 1).flatMap((start) =>
    KINDS.map(
      (kind): Act => ({
        ...start,
        key: `kind-${kind}`,
        label: words.board.kinds[kind],
        data: { ...start.data, kind },
        isMain: false,
        group: 'more',
      }),
    ),
  )

/** What was seen when the last coat was looked over. */
const inspectActs = (panel: PanelContext, lane: Lane, words: Words): Act[] =>
  lastCoat(panel)
    ? RESULTS.map((result) => ({
        key: `see-${result}`,
        label: words.board.results[result],
        type: 'InspectCoat',
        data: { panel: lane.panel, result },
        group: 'inspect',
      }))
    : []
