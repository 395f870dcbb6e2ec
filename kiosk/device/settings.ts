import { check, number, oneOf } from '../../machines/accept.ts'
import type { Speaker } from '../bells/sound/speaker.ts'

/** What belongs to this one device and not to the shop: kept in the browser, never in the log. */

const SCALE = 'flashbell.pxPerMm'
const THEME = 'flashbell.theme'
const OFFSET = 'flashbell.clockOffsetMs'
const KEPT = 'flashbell.kept.'

export const THEMES = ['auto', 'light', 'dark'] as const
export type Theme = (typeof THEMES)[number]

/** From a wall screen of 2 px/mm to a phone of 25; anything else was never measured. */
const pxPerMm = number(1, 40, 'px/mm')
const offset = number(-1e13, 1e13, 'ms')

export type Settings = {
  /** CSS pixels in a millimeter of this screen; null until it was measured. */
  scale(): number | null
  setScale(pxPerMm: number): void
  theme(): Theme
  setTheme(theme: Theme): void
  /** Server time less device time, as last known. */
  clockOffsetMs(): number
  setClockOffsetMs(ms: number): void
  /** What a screen keeps on this device through a reload, by a name of its own; null for nothing. */
  kept(name: string): string | null
  keep(name: string, text: string | null): void
}

/** @param root the element that carries --mm and data-theme */
export function settings(store: Storage, root: HTMLElement): Settings {
  const read = (key: string) => store.getItem(key) ?? undefined
  const scale = () => {
    const kept = check(pxPerMm, Number(read(SCALE)))
    return kept.ok ? kept.value : null
  }
  const theme = () => {
    const kept = check(oneOf(THEMES), read(THEME))
    return kept.ok ? kept.value : 'auto'
  }
  const apply = () => {
    const px = scale()
    if (px !== null) root.style.setProperty('--mm', `${px}px`)
    if (theme() === 'auto') root.removeAttribute('data-theme')
    else root.setAttribute('data-theme', theme())
  }
  const write = (key: string, value: string) => {
    store.setItem(key, value)
    apply()
  }
  apply()
  return {
    scale,
    theme,
    setScale: (px) => {
      if (check(pxPerMm, px).ok) write(SCALE, String(px))
    },
    setTheme: (name) => write(THEME, name),
    clockOffsetMs: () => {
      const kept = check(offset, Number(read(OFFSET)))
      return kept.ok ? kept.value : 0
    },
    setClockOffsetMs: (ms) => store.setItem(OFFSET, String(ms)),
    kept: (name) => store.getItem(KEPT + name),
    keep: (name, text) => {
      if (text === null) store.removeItem(KEPT + name)
      else store.setItem(KEPT + name, text)
    },
  }
}

/** How loud this kiosk is: dB under full scale, as set when it was commissioned. */

/** Where the level is commissioned, below Setup. */
export const LEVEL_PAGE = 'level'

/** Under this name a kiosk keeps the zone that it is bound to. */
export const POSITION = 'position'

const LEVEL = 'levelDb'
export const LEVEL_STEP_DB = 3
/** Quieter than this a bell is lost in a booth fan. */
const LEAST_DB = -24

const within = (db: number): number => Math.min(0, Math.max(LEAST_DB, db))

export function levelOf(settings: Settings): number {
  const kept = Number(settings.kept(LEVEL) ?? 0)
  return Number.isFinite(kept) ? within(kept) : 0
}

/** @returns the level as it now is: never above full scale, never too low to be heard */
export function setLevel(
  settings: Settings,
  speaker: Pick<Speaker, 'setLevelDb'>,
  db: number,
): number {
  const level = within(db)
  settings.keep(LEVEL, String(level))
  speaker.setLevelDb(level)
  return level
}
