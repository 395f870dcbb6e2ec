import { liveIn } from '../live.ts'
import { type Deviation, type Disposition, type Settled, settledBy } from './deviations.ts'
import type { CoatTold, PanelTold } from './record.ts'
import type { Traced } from './trace.ts'

/** Limits that were broken as is known only now: what came late showed it, and no entry says so. */

/** What people have decided about what was found later: the last word on an entry and a code. */
function settledIn({ state }: Pick<Traced, 'state'>, entry: string, code: string): Settled {
  const said = Object.values(state.things.job)
    .flatMap(({ entries }) => liveIn(entries))
    .findLast(
      ({ type, data }) => type === 'DeviationSettled' && data.entry === entry && data.code === code,
    )
  return said
    ? settledBy(said, String(said.data.disposition) as Disposition)
    : { is: 'watch', entry: null, at: null, by: null, reason: null }
}

const says = ({ broken }: CoatTold, codes: readonly string[]): boolean =>
  broken.some(({ code }) => codes.includes(code))

function ofCoat(all: Pick<Traced, 'state'>, coat: CoatTold, name: string): Deviation[] {
  const { wait, window, pot, startedAt } = coat
  const at = (code: string, limit: number, amount: number, length: number): Deviation => ({
    ...{
      entry: coat.entry,
      position: null,
      type: 'CoatStarted',
      at: startedAt,
      kind: 'foundLater',
    },
    ...{ code, limit, value: startedAt, reason: null, isVoided: false },
    excess: { amount, unit: 'ms', share: length > 0 ? amount / length : null },
    where: {
      ...{ panel: coat.panel, panelName: name, stage: coat.stage, coat: coat.nth },
      ...{ cup: coat.cups[0] ?? null, gun: coat.gun, zone: null },
    },
    disposition: settledIn(all, coat.entry, code),
  })
  const found: Deviation[] = []
  // An estimated start was put there by the rules: it says nothing about the coat.
  if (coat.isEstimated) return found
  const due = wait?.dueAt ?? null
  if (wait && due !== null && startedAt < due && !says(coat, ['flashNotOver', 'lookFirst']))
    found.push(at('flashNotOver', due, due - startedAt, due - wait.fromMs))
  if (window?.isShut && !says(coat, ['windowShut'])) {
    const { shutsAt, fromMs } = window
    found.push(at('windowShut', shutsAt, startedAt - shutsAt, shutsAt - fromMs))
  }
  if (pot && startedAt >= pot.endsAt && !says(coat, ['potLifeOver']))
    found.push(at('potLifeOver', pot.endsAt, startedAt - pot.endsAt, pot.endsAt - pot.bornAt))
  return found
}

/**
 * Deviations that no entry is marked with, since the log did not know enough when it judged: a coat that
 * was told days later lay in between, or a reading came after the press.
 */
export const foundLater = (all: Pick<Traced, 'panels' | 'state'>): Deviation[] =>
  all.panels.flatMap(({ coats, name }: PanelTold) =>
    coats.flatMap((coat) => ofCoat(all, coat, name)),
  )
