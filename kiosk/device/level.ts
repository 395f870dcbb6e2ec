import type { Speaker } from '../bells/sound/speaker.ts'
import type { Settings } from './settings.ts'

/** How loud this kiosk is: dB under full scale, as set when it was commissioned. */

/** Where the level is commissioned, below Setup. */
export const LEVEL_PAGE = 'level'

/** Under this name a kiosk keeps the zone that it is bound to. */
export const POSITION = 'position'

const KEPT = 'levelDb'
export const LEVEL_STEP_DB = 3
/** Quieter than this a bell is lost in a booth fan. */
const LEAST_DB = -24

const within = (db: number): number => Math.min(0, Math.max(LEAST_DB, db))

export function levelOf(settings: Settings): number {
  const kept = Number(settings.kept(KEPT) ?? 0)
  return Number.isFinite(kept) ? within(kept) : 0
}

/** @returns the level as it now is: never above full scale, never too low to be heard */
export function setLevel(
  settings: Settings,
  speaker: Pick<Speaker, 'setLevelDb'>,
  db: number,
): number {
  const level = within(db)
  settings.keep(KEPT, String(level))
  speaker.setLevelDb(level)
  return level
}
