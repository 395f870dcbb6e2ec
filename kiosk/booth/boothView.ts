import type { Deadline } from '../../machines/bell/deadline.ts'
import { BELLS } from '../../machines/bell/kinds.ts'
import type { State } from '../../machines/state.ts'
import { type Chip, chipOf } from '../lanes/chip.ts'
import { type CupView, cupsOf } from '../lanes/cups.ts'
import { type Lane, lanesOf } from '../lanes/lanes.ts'
import { shortLength } from '../units/format.ts'
import type { Words } from '../words/en.ts'

/** What is read through the booth's window: one or two timers, those that matter first. Pure. */

type BoothTimer = {
  readonly key: string
  readonly title: string
  readonly detail: string
  readonly chip: Pick<Chip, 'big' | 'small' | 'sound'> & { readonly isDigits: boolean }
  /** When its time is over, UTC ms; null where none runs down. */
  readonly overAt: number | null
}

const TIMERS_MOST = 2

/** When a lane wants somebody, UTC ms; what already does comes first, what has no moment last. */
function dueOf({ waits, band, bell }: Lane, now: number): number {
  if (bell) return Math.min(bell.dueAt, now)
  switch (waits.for) {
    case 'flash':
    case 'heatFlash':
      return waits.until
    case 'spraying':
      return now
    case 'look':
      return waits.at ?? Number.MAX_SAFE_INTEGER
    case 'cure':
    case 'hand':
      return waits.until ?? Number.MAX_SAFE_INTEGER
    case 'coat':
      return band?.shutsAt ?? Number.MAX_SAFE_INTEGER
    default:
      return Number.MAX_SAFE_INTEGER
  }
}

/** Alarms first, the most urgent before the others: they must not wait behind what only may go on. */
function rankOf(bell: Deadline | null): number {
  if (!bell) return 2
  return { high: 0, medium: 1, prompt: 2 }[BELLS[bell.bell].class]
}

function laneTimer(lane: Lane, words: Words, now: number): BoothTimer {
  const { counting, ...chip } = chipOf(lane, words, now)
  return {
    key: lane.panel,
    title: lane.name,
    detail: lane.jobTitle,
    chip: { ...chip, isDigits: counting !== null },
    overAt: counting !== null && 'toMs' in counting ? counting.toMs : null,
  }
}

function cupTimer(view: CupView, endsAt: number, words: Words, now: number): BoothTimer {
  const isOver = now >= endsAt
  return {
    key: view.id,
    title: words.board.cup(view.id.slice(0, 4)),
    detail: [words.stage[view.cup.stage], view.cup.colour].filter(Boolean).join(', '),
    chip: {
      big: isOver ? `+${shortLength(now - endsAt)}` : shortLength(endsAt - now),
      small: isOver ? words.board.over : words.scan.of,
      sound: isOver ? 'B2' : view.bell?.bell === 'potNear' ? 'B1' : null,
      isDigits: true,
    },
    overAt: isOver ? null : endsAt,
  }
}

/**
 * The timers of a Booth view.
 * @param job whose panels to show; of all jobs without it
 * @param now kiosk time, UTC ms
 */
export function boothTimers(state: State, words: Words, now: number, job?: string): BoothTimer[] {
  const lanes = lanesOf(state, now)
    .filter((lane) => job === undefined || lane.job === job)
    .map((lane) => ({
      dueAt: dueOf(lane, now),
      bell: lane.bell,
      timer: laneTimer(lane, words, now),
    }))
  const cups = cupsOf(state, now)
    .filter((view) => job === undefined || view.cup.job === job || view.cup.alsoFor?.includes(job))
    .flatMap((view) => {
      if (view.endsAt === null) return []
      const dueAt = Math.min(view.bell?.dueAt ?? view.endsAt, view.endsAt)
      return [{ dueAt, bell: view.bell, timer: cupTimer(view, view.endsAt, words, now) }]
    })
  return [...lanes, ...cups]
    .sort((a, b) => rankOf(a.bell) - rankOf(b.bell) || a.dueAt - b.dueAt)
    .slice(0, TIMERS_MOST)
    .map(({ timer }) => timer)
}
