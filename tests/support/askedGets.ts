import { dayId } from './bigDay.ts'
import { CUP, DOOR, JOB } from './serverCommands.ts'
import { BASE } from './sheets.ts'

/** Every GET of the server as a test asks it of a shop whose third day is long past. */

/** Entries that the tail reads at a time. */
const PAGE = 200

export const OLD = { job: dayId('J', 3, 0), panel: dayId('P', 3, 0), cup: dayId('C', 3, 1) }

/** What a GET is asked as, and the most rows that it reads between two turns of whoever else waits. */
export type Get = { readonly mostRows: number; readonly asked: readonly string[] }
const get = (
  mostRows: number,
  path: string,
  ends: readonly (string | number)[] = [''],
  after = '',
): Get => ({ mostRows, asked: ends.map((end) => `${path}${end}${after}`) })
export const GETS: Readonly<Record<string, Get>> = {
  '/api/state': get(0, '/api/state', ['', '?as=packed']),
  '/api/sheets': get(0, '/api/sheets'),
  '/api/sheets/schema': get(0, '/api/sheets/schema'),
  '/healthz': get(1, '/healthz'),
  '/api/watching': get(2, '/api/watching'),
  // It has an index of its own, which reads on behind each command.
  '/api/jobs': get(200, '/api/jobs?find=', ['', 'van', 'week%201']),
  '/api/jobs/foundLater': get(300, '/api/jobs/foundLater'),
  '/api/jobs/:id/timeline': get(300, '/api/jobs/', [JOB, OLD.job, 'JJJJ3333'], '/timeline'),
  '/api/jobs/:id/trace': get(300, '/api/jobs/', [JOB, OLD.job], '/trace?defect=runs'),
  '/api/jobs/:id/alike': get(300, '/api/jobs/', [JOB, OLD.job], '/alike'),
  '/api/jobs/:id/export': get(300, '/api/jobs/', [OLD.job], '/export?as=jsonl'),
  // It has an index of its own as well.
  '/api/genealogy/:kind/:id': get(200, '/api/genealogy/', [`cup/${OLD.cup}`, 'lot/L-4411?limit=5']),
  '/api/lots': get(200, '/api/lots'),
  '/api/labels/cup/:name': get(100, '/api/labels/cup/', [CUP, OLD.cup], '.svg'),
  '/api/labels/panel/:name': get(0, '/api/labels/panel/', [DOOR, OLD.panel], '.svg'),
  '/api/labels/job/:name': get(100, '/api/labels/job/', [JOB, OLD.job], '.svg'),
  '/api/labels/person/:name': get(0, '/api/labels/person/', ['p-ann'], '.svg'),
  '/api/labels/gun/:name': get(0, '/api/labels/gun/', ['gun-1'], '.svg'),
  '/api/labels/shelf/:name': get(0, '/api/labels/shelf/', [BASE.sheet], '.svg'),
  '/api/labels/commands/:name': get(0, '/api/labels/commands/', ['all'], '.svg'),
  '/api/labels/command/:name': get(0, '/api/labels/command/', ['undo'], '.svg'),
  '/api/scan/:text': get(100, '/api/scan/', [CUP, OLD.cup, 'CC', DOOR]),
  '/api/photos/:photo': get(0, '/api/photos/', ['a'.repeat(64)]),
  '/api/records': get(400, '/api/records?from=2026-01-05&to=2026-01-07'),
  '/api/reviews': get(10, '/api/reviews?defect=runs'),
  '/api/bells': get(1_000, '/api/bells?days=1'),
  '/api/day': get(200, '/api/day'),
  // Both are made of what is held: what is learned is read on behind each command.
  '/api/learned': get(200, '/api/learned'),
  '/api/forecast': get(200, '/api/forecast'),
  '/api/entries': get(1_000, '/api/entries?limit=', [20, 500, 1_000]),
  // All behind a position, in pages that wait for the reader: below, and in tailPages.test.ts.
  '/api/tail': get(2 * PAGE, '/api/tail', []),
}
