import type { LabelLayout } from '../labels/layout.ts'
import type { RasterPage } from './printing/pwgRaster.ts'
import { answering } from './threadSide.ts'
import { nextTurn } from './turn.ts'

/** The thread of labelThread.ts: it draws labels, and nothing else. The drawing libraries are large: they come with the first label. */

const drawings = {
  svg: async (layout: LabelLayout) => (await import('../labels/render.ts')).labelSvg(layout),
  /** Grayscale of one bit. */
  png: async (layout: LabelLayout) => (await import('../labels/render.ts')).labelPng(layout),
  pdf: async (layouts: readonly LabelLayout[]) =>
    (await import('../labels/pdf.ts')).labelPdf(layouts),
  /** PWG raster, each page a label. */
  raster: async (layouts: readonly LabelLayout[], how: Omit<RasterPage, 'bitmap'>) => {
    const { labelBitmap } = await import('../labels/render.ts')
    const { pwgRaster } = await import('./printing/pwgRaster.ts')
    return pwgRaster(layouts.map((layout) => ({ bitmap: labelBitmap(layout), ...how })))
  },
  /**
   * Makes everything ready, step by step: a label that is asked for meanwhile is drawn between two of them.
   * @returns the PNG of a label that nobody sees
   */
  warm: async () => {
    const { warmUp } = await import('../labels/warmUp.ts')
    const steps = warmUp()
    for (;;) {
      const step = await steps.next()
      if (step.done) return step.value
      await nextTurn()
    }
  },
}
export type Drawings = typeof drawings

export type ToDraw = { readonly form: keyof Drawings; readonly given: readonly unknown[] }

answering(({ form, given }: ToDraw) => {
  const draw = drawings[form] as (...given: readonly unknown[]) => Promise<string | Uint8Array>
  return draw(...given)
})
