import type { Draft } from '../envelope.ts'
import type { CureMode, PanelContext } from '../panel/context.ts'
import { withHeat } from '../panel/pastHeat.ts'
import * as record from '../panel/record.ts'
import type { CureFigures, Opens } from '../sheet/intervals.ts'
import type { Stage } from '../sheet/schema.ts'

/**
 * What a planned act makes of a panel: by the rules' own functions, the same that fold what really
 * happened. Nothing of it is recorded.
 */

/** What a fact needs to be one, and no log gives it: nobody pressed anything. */
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
  return record.finished(panel, { ...PLANNED, type: 'CoatFinished', at: toMs, data })
}

export function afterHand(panel: PanelContext, step: number, at: number): PanelContext {
  const stage = panel.route[step]?.stage
  if (stage === 'polish') return record.polished(panel)
  const work = panel.route[step]?.work
  const data = { step, ...(work === undefined ? {} : { work }) }
  return record.prepDone(panel, { ...PLANNED, type: 'PrepStepDone', at, data })
}

export const afterAbrading = (panel: PanelContext, at: number): PanelContext =>
  record.abraded(panel, { ...PLANNED, type: 'PanelAbraded', at, data: {} })

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
  const curing = panel.cure
    ? panel
    : record.cureStarted(panel, { ...PLANNED, type: 'CureStarted', at: fromMs, data })
  const ended = record.cureEnded(curing, {
    ...PLANNED,
    type: 'CureEnded',
    at: toMs,
    data: { isComplete: true },
  })
  return withHeat(curing, ended, toMs)
}
