import { scanPairs } from './device/handsfree.ts'
import { serverNotices } from './frame/serverTrouble.tsx'
import type { Screen } from './frame/shell.tsx'
import { later } from './ui/screen.tsx'
import { screenStyle } from './ui/screenStyle.ts'
import { actSheet, Wall } from './wall/wall.tsx'

const scan = () => import('./scan/scan.tsx')

/** What a coat needs beside the Wall: fetched once that stands, so that the first touch and scan are answered at once. */
export function fetchSoon(): void {
  for (const part of [actSheet, scanPairs, scan, serverNotices, screenStyle]) part().catch(() => {})
}

/** Every screen, in the order of the navigation. */
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
  {
    path: 'trace',
    under: 'jobs',
    View: later(async () => (await import('./trace/trace.tsx')).Trace),
  },
  { path: 'scan', View: later(async () => (await scan()).Scan) },
  { path: 'setup', View: later(async () => (await import('./setup/setup.tsx')).Setup) },
  { path: 'air', under: 'wall', View: later(async () => (await import('./air/air.tsx')).Air) },
  { path: 'help', under: 'wall', View: later(async () => (await import('./help/help.tsx')).Help) },
  {
    path: 'unsent',
    under: 'wall',
    View: later(async () => (await import('./unsent/unsent.tsx')).Unsent),
  },
  {
    path: 'codes',
    under: 'setup',
    View: later(async () => (await import('./codes/codes.tsx')).Codes),
  },
  {
    path: 'booth',
    isBare: true,
    View: later(async () => (await import('./booth/booth.tsx')).Booth),
  },
]
