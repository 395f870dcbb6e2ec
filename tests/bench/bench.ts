import { bells } from './bells.ts'
import { growth } from './growth.ts'
import { http } from './http.ts'
import { kiosks } from './kiosks.ts'
import { lanes } from './lanes.ts'
import { paint } from './paint.ts'
import { store } from './store.ts'
import { transfer } from './transfer.ts'

/**
 * `npm run bench`: what things cost, printed; no figure fails anything.
 *
 *   npm run bench                          all parts, in some minutes
 *   npm run bench -- lanes --minutes 10    one part, or several by name
 *   npm run bench -- bells --alerts 200    how many bells are waited for, each way
 *
 * How to read it. Machines are noisy and other work may run beside it, so wherever something can be
 * compared a ratio within the one run stands beside the value: judge by that, and by the shares of
 * many (p95) rather than by one. n is how many were measured. A target in parentheses is what the
 * requirement asks. Browsers are headless: no screen and no loudspeaker take part, so what a display
 * and an audio device add is to be measured on the shop's own.
 */

const ALERTS = 60
const MINUTES = 1

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

const alerts = option('alerts', ALERTS)
const minutes = option('minutes', MINUTES)
const PARTS: ReadonlyMap<string, () => Promise<void>> = new Map([
  ['store', store],
  ['http', http],
  ['growth', growth],
  ['transfer', transfer],
  ['paint', paint],
  ['kiosks', kiosks],
  ['bells', () => bells(alerts)],
  ['lanes', () => lanes(minutes)],
])

const known = [...PARTS.keys()]
const other = asked.find((name) => !known.includes(name))
if (other !== undefined) throw new Error(`No part ${other}; there are ${known.join(', ')}.`)
for (const [name, run] of PARTS) if (asked.length === 0 || asked.includes(name)) await run()
// What a library left open, such as a connection kept alive, is not to hold the run up.
process.exit(0)
