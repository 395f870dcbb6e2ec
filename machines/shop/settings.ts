import { SETTINGS_ID } from '../catalog.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State } from '../state.ts'
import type { Settings } from './settingsSchema.ts'

const merged = (old: Settings, change: Settings): Settings => ({
  ...old,
  ...change,
  ...(old.units || change.units ? { units: { ...old.units, ...change.units } } : {}),
  ...(old.bells || change.bells ? { bells: { ...old.bells, ...change.bells } } : {}),
  ...(old.limits || change.limits ? { limits: { ...old.limits, ...change.limits } } : {}),
})

export const settingsFolder = plainFolder<Settings>({}, (settings, entry) =>
  merged(settings, entry.data as Settings),
)

export const DEW_MARGIN_C = 3
export const SPRAY_MIN_PER_M2 = 2

export const settingsOf = (state: State): Settings =>
  contextOf(state, 'settings', SETTINGS_ID) ?? {}
