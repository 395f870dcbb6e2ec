import type { Deviation } from './deviations.ts'
import type { CoatTold, PanelTold } from './record.ts'
import type { Traced } from './trace.ts'

/** Limits that were broken as is known only now: what came late showed it, and no entry says so. */

const says = ({ broken }: CoatTold, codes: readonly string[]): boolean =>
  broken.some(({ code }) => codes.includes(code))

function ofCoat(coat: CoatTold, name: string): Deviation[] {
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
    disposition: { is: 'watch', entry: null, at: null, by: null, reason: null },
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
export const foundLater = ({ panels }: Pick<Traced, 'panels'>): Deviation[] =>
  panels.flatMap(({ coats, name }: PanelTold) => coats.flatMap((coat) => ofCoat(coat, name)))
