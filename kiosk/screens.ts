import { Bench } from './bench/bench.tsx'
import { CupsAndGuns } from './bench/cupsAndGuns.tsx'
import { Calculator } from './calculator/calculator.tsx'
import { Codes } from './handsfree/sheet.tsx'
import { Jobs } from './jobs/jobs.tsx'
import { Unsent } from './outbox/unsent.tsx'
import { Scan } from './scanning/scan.tsx'
import { ThisKiosk } from './screen/thisKiosk.tsx'
import type { Screen } from './shell.tsx'
import { Wall } from './wall/wall.tsx'

/** Every screen, in the order of the navigation. */
export const SCREENS: readonly [Screen, ...Screen[]] = [
  { path: 'wall', View: Wall },
  { path: 'bench', View: Bench },
  { path: 'cups', under: 'bench', View: CupsAndGuns },
  { path: 'calculator', under: 'bench', View: Calculator },
  { path: 'jobs', View: Jobs },
  { path: 'scan', View: Scan },
  { path: 'setup', View: ThisKiosk },
  { path: 'unsent', under: 'wall', View: Unsent },
  { path: 'codes', under: 'setup', View: Codes },
]
