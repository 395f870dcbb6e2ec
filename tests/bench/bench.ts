import { loadavg } from 'node:os'
import { fileURLToPath } from 'node:url'
import { keepProgram } from '../../server/kept/make.ts'
import { bells } from './bells.ts'
import { commits } from './commits.ts'
import { copies } from './copies.ts'
import { damage } from './damage.ts'
import { decided } from './decided.ts'
import { forecast } from './forecast.ts'
import { genealogy } from './genealogy.ts'
import { growth } from './growth.ts'
import { history } from './history.ts'
import { http } from './http.ts'
import { kiosks } from './kiosks.ts'
import { labels } from './labels.ts'
import { lanes } from './lanes.ts'
import { paint } from './paint.ts'
import { start } from './start.ts'
import { store } from './store.ts'
import { machine, type Part, type Row, tableOf } from './table.ts'
import { trace } from './trace.ts'
import { transfer } from './transfer.ts'
import { waits } from './waits.ts'

/**
 * `npm run bench`: what things cost, as one table; no figure fails anything.
 *
 *   npm run bench                          all parts, in some minutes; written to tests/bench/RESULTS.md too
 *   npm run bench -- lanes --minutes 10    one part, or several by name; printed only
 *   npm run bench -- labels damage         what a label costs, and how much damage its code bears
 *   npm run bench -- bells --alerts 200    how many bells are waited for, each way
 *   npm run bench -- history copies --entries 2000000   how long the long log is
 *
 * How to read it. Machines are noisy and other work may run beside it, so wherever something can be
 * compared, the limit (the bare thing without ours) or a peer is measured in turn in the same run: judge by
 * the ratio, and by the shares of many (p95) rather than by one. A row that could not be measured says why.
 * Browsers are headless: no screen and no loudspeaker take part, so what a display and an audio device
 * add is to be measured on the shop's own.
 */

const ALERTS = 60
const MINUTES = 1
const ENTRIES = 200_000

const asked = process.argv.slice(2)

/** A number behind its name, such as `--minutes 10`. */
function option(name: string, usual: number): number {
  const at = asked.indexOf(`--${name}`)
  if (at < 0) return usual
  const [, given] = asked.splice(at, 2)
  const value = Number(given)
  if (given === undefined || !(value > 0))
    throw new Error(`--${name} takes a number above 0; it got ${given ?? 'nothing'}.`)
  return value
}

const options = {
  alerts: option('alerts', ALERTS),
  minutes: option('minutes', MINUTES),
  entries: option('entries', ENTRIES),
}
const PARTS: readonly Part[] = [
  ...[store, commits, decided, http, start, labels, damage, growth, history, copies, waits],
  ...[transfer, paint, kiosks, bells, lanes, trace, genealogy, forecast],
]

const known = PARTS.map(({ name }) => name)
const other = asked.find((name) => !known.includes(name))
if (other !== undefined) throw new Error(`No part ${other}; there are ${known.join(', ')}.`)

// What a shop's first start leaves for all later ones.
await keepProgram()
const loads: number[] = []
const rows: Row[] = []
for (const part of PARTS) {
  if (asked.length > 0 && !asked.includes(part.name)) continue
  process.stderr.write(`${part.name} ...\n`)
  rows.push(...(await part.measure(options)))
  loads.push(loadavg()[0] ?? Number.NaN)
}
const about = `${new Date().toISOString().slice(0, 10)}. ${machine()}. Load while it ran: ${Math.min(...loads).toFixed(1)} to ${Math.max(...loads).toFixed(1)}.`
process.stdout.write(`${about}\n\n${tableOf(rows)}\n`)
if (asked.length === 0) {
  const RESULTS = fileURLToPath(new URL('./RESULTS.md', import.meta.url))
  const intro =
    'Written by `npm run bench`; `tests/bench/bench.ts` says how to read it. Carry over the ratios, not the figures.'
  // What takes an hour, such as a log of ten years, was measured once and stands behind the table.
  const [, ...once] = (await Bun.file(RESULTS).text()).split('\n## ')
  const kept = once.map((section) => `\n## ${section}`).join('')
  await Bun.write(
    RESULTS,
    `# Results of the bench\n\n${intro}\n\n${about}\n\n${tableOf(rows)}\n${kept}`,
  )
}
// What a library left open, such as a connection kept alive, is not to hold the run up.
process.exit(0)
