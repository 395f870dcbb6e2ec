import type { DrawItem, LabelLayout } from './layout.ts'
import { type LabelPaper, pageOf } from './page.ts'
import { dotsFor } from './stock.ts'
import { runOf } from './text.ts'

/**
 * A label to hold a rule against: marks every millimeter along both edges from the margin on, and a line
 * of one dot, which a printer that scales prints thicker, thinner or not at all.
 */

const LONG = 5
const TENS_MM = 10

/** @param name of the printer, in letters that the label font has */
export function layoutRuler(name: string, paper: LabelPaper): LabelLayout {
  const page = pageOf(paper)
  const { dpi } = paper
  const dotsOf = (mm: number) => Math.round((mm * dpi) / 25.4)
  const tick = (mm: number) => dotsFor(mm % TENS_MM === 0 ? 3 : mm % LONG === 0 ? 2 : 1, dpi)
  const marks = (lengthDots: number) =>
    Array.from({ length: Math.floor((lengthDots * 25.4) / dpi) + 1 }, (_, mm) => mm)
  const thick = Math.max(1, dotsOf(0.125))
  const across = marks(page.right - page.left - thick).map(
    (mm): DrawItem => ({
      kind: 'rule',
      x: page.left + dotsOf(mm),
      y: page.top,
      widthDots: thick,
      heightDots: tick(mm),
    }),
  )
  const down = marks(page.bottom - page.top - thick)
    .slice(1)
    .map(
      (mm): DrawItem => ({
        kind: 'rule',
        x: page.left,
        y: page.top + dotsOf(mm),
        widthDots: tick(mm),
        heightDots: thick,
      }),
    )
  const texts = [name, `${paper.stock.widthMm} x ${paper.stock.heightMm} mm`, `${dpi} dpi`]
  const cap = dotsFor(2.4, dpi)
  const left = page.left + dotsFor(5, dpi)
  const lines = texts.map((text, n): DrawItem => {
    const baseline = page.top + dotsFor(8 + 4 * n, dpi)
    return { ...runOf(text.toUpperCase(), cap), kind: 'text', x: left, baseline }
  })
  const hairline: DrawItem = {
    kind: 'rule',
    x: left,
    y: page.bottom - dotsFor(2, dpi),
    widthDots: page.right - left,
    heightDots: 1,
  }
  return {
    dpi,
    widthDots: page.width,
    heightDots: page.height,
    items: [...across, ...down, ...lines, hairline],
    payload: '',
  }
}
