import { Booth } from './booth/booth.tsx'
import type { Screen } from './frame/shell.tsx'
import { Scan } from './scan/scan.tsx'
import { later } from './ui/screen.tsx'
import { Unsent } from './unsent/unsent.tsx'
import { Wall } from './wall/wall.tsx'

/** Every screen, in the order of the navigation. What a coat needs is there at once. */
export const SCREENS: readonly [Screen, ...Screen[]] = [
  { path: 'wall', View: Wall },
  { path: 'bench', View: later(async () => (await import('./bench/bench.tsx')).Bench) },
  {
    path: 'cups',
    under: 'bench',
    View: later(async () => (await import('./bench/cupsAndGuns.tsx')).CupsAndGuns),
  },
  {
    path: 'calculator',
    under: 'bench',
    View: later(async () => (await import('./calculator/calculator.tsx')).Calculator),
  },
  { path: 'jobs', View: later(async () => (await import('./jobs/jobs.tsx')).Jobs) },
  { path: 'scan', View: Scan },
  { path: 'setup', View: later(async () => (await import('./setup/setup.tsx')).Setup) },
  { path: 'air', under: 'wall', View: later(async () => (await import('./air/air.tsx')).Air) },
  { path: 'unsent', under: 'wall', View: Unsent },
  {
    path: 'codes',
    under: 'setup',
    View: later(async () => (await import('./codes/codes.tsx')).Codes),
  },
  { path: 'booth', isBare: true, View: Booth },
]
