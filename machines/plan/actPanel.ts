import type { Draft } from '../envelope.ts'
import type { CureMode, PanelContext } from '../panel/context.ts'
import type { FactOf, PanelFact } from '../panel/events.ts'
import { withHeat } from '../panel/pastHeat.ts'
import * as record from '../panel/record.ts'
import type { CureFigures, Opens } from '../sheet/intervals.ts'
import type { Stage } from '../sheet/schema.ts'

/**
 * What a planned act makes of a panel: by the rules' own functions, the same that fold what really
 * happened. Nothing of it is recorded.
 */

type Of<T extends PanelFact['type']> = FactOf<T>['data']

const PLANNED = {
  shop: '',
  id: 'planned.0',
  version: 1,
  enteredAt: 0,
  device: null,
  by: null,
  command: 'planned',
  seq: null,
} satisfies Omit<Draft, 'type' | 'at' | 'data'>

/** A fact is one of many shapes by its type: that this one has the shape of its own type is beyond what TypeScript follows. */
const fact = <T extends PanelFact['type']>(type: T, at: number, data: Of<T>): FactOf<T> =>
  ({ ...PLANNED, type, at, data }) as unknown as FactOf<T>

export type Spraying = {
  readonly step: number
  readonly fromMs: number
  readonly toMs: number
  readonly sheet: string | null
  readonly stage: Stage
  readonly opens: Opens | null
}

export function afterCoat(panel: PanelContext, coat: Spraying): PanelContext {
  const { step, fromMs, toMs, sheet, stage, opens } = coat
  const data = {
    kind: panel.open?.kind ?? 'full',
    sheet,
    stage,
    step,
    startedAt: fromMs,
    opens,
  } as const
  return record.finished(panel, fact('CoatFinished', toMs, data))
}

export function afterHand(panel: PanelContext, step: number, at: number): PanelContext {
  const stage = panel.route[step]?.stage
  if (stage === 'polish') return record.polished(panel)
  const work = panel.route[step]?.work
  const data = { step, ...(work === undefined ? {} : { work }) }
  return record.prepDone(panel, fact('PrepStepDone', at, data))
}

export const afterAbrading = (panel: PanelContext, at: number): PanelContext =>
  record.abraded(panel, fact('PanelAbraded', at, {}))

export type Curing = {
  readonly step: number
  readonly mode: CureMode
  readonly fromMs: number
  readonly toMs: number
  readonly setC: number | null
  readonly figures: CureFigures
}

/** A cure from its begin to its end: what was heated knows of its heat. */
export function afterCure(panel: PanelContext, cure: Curing): PanelContext {
  const { step, mode, fromMs, toMs, setC, figures } = cure
  const data = { step, mode, figures, ...(setC === null ? {} : { setC }) }
  const curing = panel.cure ? panel : record.cureStarted(panel, fact('CureStarted', fromMs, data))
  const ended = record.cureEnded(curing, fact('CureEnded', toMs, { isComplete: true }))
  return withHeat(curing, ended, toMs)
}
