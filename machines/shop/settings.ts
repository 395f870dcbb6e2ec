import { SETTINGS_ID } from '../catalog.ts'
import { liveIn } from '../live.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State, thingOf } from '../state.ts'
import type { Settings } from './settingsSchema.ts'

const merged = (old: Settings, change: Settings): Settings => ({
  ...old,
  ...change,
  ...(old.units || change.units ? { units: { ...old.units, ...change.units } } : {}),
  ...(old.bells || change.bells ? { bells: { ...old.bells, ...change.bells } } : {}),
  ...(change.usualRoutes ? { usualRoutes: routesIn(old, change) } : {}),
  ...(old.limits || change.limits ? { limits: { ...old.limits, ...change.limits } } : {}),
})

/** Each for its operation: the last word counts, and an empty one is none. */
function routesIn({ usualRoutes: old = [] }: Settings, { usualRoutes: change = [] }: Settings) {
  const isOf = (a: (typeof old)[number]) => (b: (typeof old)[number]) =>
    a.operation === b.operation && a.isPlastic === b.isPlastic
  const others = old.filter((one) => !change.some(isOf(one)))
  return [...others, ...change.filter(({ route }) => route.length > 0)]
}

export const settingsFolder = plainFolder<Settings>({}, (settings, entry) =>
  merged(settings, entry.data as Settings),
)

export const DEW_MARGIN_C = 3
export const SPRAY_MIN_PER_M2 = 2

export const settingsOf = (state: State): Settings =>
  contextOf(state, 'settings', SETTINGS_ID) ?? {}

/** The settings that were in force at an instant, UTC ms: what is late is judged by those of its time. */
export function settingsAt(state: State, at: number): Settings {
  const thing = thingOf(state, { kind: 'settings', id: SETTINGS_ID })
  if (!thing || (thing.entries.at(-1)?.at ?? 0) <= at) return thing?.context ?? {}
  return liveIn(thing.entries)
    .filter((e) => e.at <= at)
    .reduce((settings: Settings, { data }) => merged(settings, data as Settings), {})
}
