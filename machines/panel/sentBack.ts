import type { PanelContext, StepStatus } from './context.ts'
import type { FactOf } from './events.ts'

/** Coats after the step that a panel is sent back to no longer count, though their film is there. */
export function sentBack(panel: PanelContext, { data }: FactOf<'PanelSentBack'>): PanelContext {
  let kept = 0
  const coats = panel.coats.map((coat) => {
    if (!coat.counts || coat.step < data.toStep) return coat
    if (coat.step === data.toStep && kept < data.done) {
      kept += 1
      return coat
    }
    return { ...coat, counts: false }
  })
  const status = panel.status.map((s, i): StepStatus => (i < data.toStep ? s : 'open'))
  // What was stripped is no film any more; what was only sent back lies under the coats to come.
  const on = data.stripped
    ? coats.filter(({ step, counts }) => counts || step < data.toStep)
    : coats
  return { ...panel, coats: on, status, open: null, cure: null, passedAt: null }
}
