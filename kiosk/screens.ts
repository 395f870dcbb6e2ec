import { loadScanActions } from './device/handsfree.ts'
import { serverNotices } from './frame/serverTrouble.tsx'
import type { Screen } from './frame/shell.tsx'
import { again } from './ui/again.ts'
import { later } from './ui/screen.tsx'
import { screenStyle } from './ui/screenStyle.ts'
import { actSheet, Wall } from './wall/wall.tsx'

const scan = () => again(() => import('./scan/scan.tsx'))

/**
 * What a coat needs beside the Wall: fetched once that stands, so that the first touch and scan are answered at once.
 * @param turn lets others in between: a slow device asks for one after another
 */
export async function fetchSoon(turn: () => Promise<void>): Promise<void> {
  for (const part of [actSheet, loadScanActions, scan, serverNotices, screenStyle]) {
    part().catch(() => {})
    await turn()
  }
}

/** Every screen, in the order of the navigation. */
export const SCREENS: readonly [Screen, ...Screen[]] = [
  { path: 'wall', View: Wall },
  {
    path: 'bench',
    View: later(async () => (await again(() => import('./bench/bench.tsx'))).Bench),
  },
  {
    path: 'cups',
    under: 'bench',
    View: later(async () => (await again(() => import('./bench/cupsAndGuns.tsx'))).CupsAndGuns),
  },
  {
    path: 'calculator',
    under: 'bench',
    View: later(async () => (await again(() => import('./calculator/calculator.tsx'))).Calculator),
  },
  { path: 'jobs', View: later(async () => (await again(() => import('./jobs/jobs.tsx'))).Jobs) },
  {
    path: 'trace',
    under: 'jobs',
    View: later(async () => (await again(() => import('./trace/trace.tsx'))).Trace),
  },
  { path: 'scan', View: later(async () => (await scan()).Scan) },
  {
    path: 'setup',
    View: later(async () => (await again(() => import('./setup/setup.tsx'))).Setup),
  },
  {
    path: 'air',
    under: 'wall',
    View: later(async () => (await again(() => import('./air/air.tsx'))).Air),
  },
  {
    path: 'help',
    under: 'wall',
    View: later(async () => (await again(() => import('./help/help.tsx'))).Help),
  },
  {
    path: 'unsent',
    under: 'wall',
    View: later(async () => (await again(() => import('./unsent/unsent.tsx'))).Unsent),
  },
  {
    path: 'codes',
    under: 'setup',
    View: later(async () => (await again(() => import('./codes/codes.tsx'))).Codes),
  },
  {
    path: 'booth',
    isBare: true,
    View: later(async () => (await again(() => import('./booth/booth.tsx'))).Booth),
  },
]
