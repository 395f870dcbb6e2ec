import { ThisKiosk } from './screen/thisKiosk.tsx'
import type { Screen } from './shell.tsx'

/** Every screen, in the order of the navigation. */
export const SCREENS: readonly [Screen, ...Screen[]] = [
  { path: 'setup', word: 'Setup', View: ThisKiosk },
]
