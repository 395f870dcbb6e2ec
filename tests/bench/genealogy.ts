import type { Entry } from '../../machines/envelope.ts'
import { followed } from '../../server/genealogy/follow.ts'
import { openGenealogy } from '../../server/genealogy/index.ts'
import { codeOf } from '../support/bigDay.ts'
import { title } from './figures.ts'
import { oursAtMost, part } from './table.ts'

/** A bad can chased to every panel, and a panel back to its cans, in a shop of years. */

const COATS = 50_000
const COATS_A_CUP = 10
const LOT = 'A-778'

const FORWARD = 'a lot that is in every cup, followed to 50,000 coats'
const BACK = 'a panel followed back to its lots'
const TURN = 'the longest that others wait meanwhile'
const READ = 'the index made anew from the log'

/** Cups mixed from the one lot, every second poured into another before it is sprayed. */
function* entriesOf(): Generator<Entry> {
  let position = 0
  const entry = (type: string, keys: object, data: object): Entry => {
    position += 1
    return {
      ...{ shop: 'SHAPSHAP', position, type, version: 1, id: `b-${position}.0`, hash: '' },
      ...{ at: position * 60_000, enteredAt: 0, recordedAt: 0, device: null, by: null },
      ...{ command: `b-${position}`, commandDigest: '', seq: position, ...keys },
      data: data as Entry['data'],
    }
  }
  for (let n = 0; n < COATS / COATS_A_CUP; n += 1) {
    const [cup, child] = [`C${codeOf(n, 7)}`, `D${codeOf(n, 7)}`]
    const [job, panel] = [`J${codeOf(n, 7)}`, `P${codeOf(n, 7)}`]
    yield entry('JobOpened', { job }, { title: `Delivery van ${n}` })
    yield entry('PanelAdded', { job, panel }, { name: 'Rear door' })
    const lots = [{ name: 'activator', lot: LOT }]
    yield entry('CupMixed', { cup, job }, { name: '2K clear', activator: 'standard', lots })
    const isPoured = n % 2 === 1
    if (isPoured) yield entry('CupPoured', { cup: child, job }, { role: 'child', parents: [cup] })
    for (let k = 0; k < COATS_A_CUP; k += 1)
      yield entry('CoatStarted', { job, panel, cup: isPoured ? child : cup }, { stage: 'clear' })
  }
}

/** How long work takes, and the longest stretch of it in which nobody else had a turn. */
async function timed(work: () => Promise<unknown>) {
  let [longest, last, isDone] = [0, performance.now(), false]
  const look = () => {
    longest = Math.max(longest, performance.now() - last)
    last = performance.now()
    if (!isDone) setImmediate(look)
  }
  setImmediate(look)
  const from = performance.now()
  await work()
  const took = performance.now() - from
  isDone = true
  look()
  return { took, longest }
}

export const genealogy = part(
  'genealogy',
  { [FORWARD]: oursAtMost(2_000), [BACK]: oursAtMost(2_000), [TURN]: null, [READ]: null },
  async (put) => {
    title('genealogy: 50,000 coats from cups of one lot')
    const index = openGenealogy(null)
    const from = performance.now()
    let page: Entry[] = []
    for (const entry of entriesOf()) {
      page.push(entry)
      if (page.length < 200) continue
      index.take(page)
      page = []
    }
    index.take(page)
    put(READ, { ours: performance.now() - from, unit: 'ms' })
    let coats = 0
    const forward = await timed(async () => {
      const found = await followed({ kind: 'lot', id: LOT }, index, { skip: 0, limit: 50 })
      coats = found?.counts.coats ?? 0
    })
    if (coats !== COATS) throw new Error(`${coats} coats were found, not ${COATS}`)
    put(FORWARD, { ours: forward.took, unit: 'ms' })
    put(TURN, { ours: forward.longest, unit: 'ms' })
    const panel = { kind: 'panel' as const, id: `P${codeOf(2_501, 7)}` }
    const back = await timed(() => followed(panel, index, { skip: 0, limit: 50 }))
    put(BACK, { ours: back.took, unit: 'ms' })
    index.close()
  },
)
