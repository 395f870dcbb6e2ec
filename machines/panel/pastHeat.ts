import type { PanelContext } from './context.ts'

/** Heat that ended, however it did, is kept: what stood in it was hot. */
export function withHeat(before: PanelContext, after: PanelContext, at: number): PanelContext {
  const { cure } = before
  if (!cure || cure.mode === 'air' || after.cure !== null) return after
  const { mode, startedAt: fromMs, setC } = cure
  const heat = { mode, fromMs, toMs: at, ...(setC === undefined ? {} : { setC }) }
  return { ...after, heats: [...(after.heats ?? []), heat] }
}
