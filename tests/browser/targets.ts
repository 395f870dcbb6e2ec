import type { Page } from 'playwright-core'
import type { Size } from '../support/browser.ts'

/**
 * What can be touched on a page, measured: sizes and gaps. Boxes are compared
 * where a finger finds them: within one scrolling part as they lie in it, between parts as they are seen.
 */

export type Target = {
  readonly word: string
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  /** The part that it scrolls with; 0 is the page. */
  readonly part: number
  /** What of it is seen; null when nothing is. */
  readonly seen: {
    readonly left: number
    readonly right: number
    readonly top: number
    readonly bottom: number
  } | null
  readonly isMain: boolean
  readonly isRow: boolean
  readonly isDestructive: boolean
}

export type Rules = {
  readonly least: number
  readonly mainWidth: number
  readonly mainHeight: number
  readonly row: number
  readonly gap: number
  readonly apart: number
}

/** @param pxPerMm of a measured screen; a phone is held in the hand and counted in its own pixels */
export const rulesFor = (size: Size, pxPerMm: number): Rules =>
  size === 'phone'
    ? { least: 44, mainWidth: 44, mainHeight: 44, row: 44, gap: 8, apart: 30 }
    : {
        least: 20 * pxPerMm,
        mainWidth: 30 * pxPerMm,
        mainHeight: 25 * pxPerMm,
        row: 18 * pxPerMm,
        gap: 4 * pxPerMm,
        apart: 15 * pxPerMm,
      }

export function targetsOn(page: Page): Promise<Target[]> {
  return page.evaluate(() => {
    const PARTS = [...document.querySelectorAll<HTMLElement>('*')].filter((e) =>
      /auto|scroll/.test(getComputedStyle(e).overflowY),
    )
    const found = [
      ...document.querySelectorAll<HTMLElement>(
        'button, a[href], summary, select, textarea, label.button, input:not([type=file])',
      ),
    ].filter(
      (e) =>
        e.checkVisibility({ visibilityProperty: true }) &&
        e.closest('[inert]') === null &&
        e.getBoundingClientRect().width > 0,
    )
    return found.map((e) => {
      const { left, right, top, bottom } = e.getBoundingClientRect()
      const parts = PARTS.filter((p) => p.contains(e) && p !== e)
      let seen = { left, right, top, bottom }
      for (const p of parts) {
        const box = p.getBoundingClientRect()
        seen = {
          left: Math.max(seen.left, box.left),
          right: Math.min(seen.right, box.right),
          top: Math.max(seen.top, box.top),
          bottom: Math.min(seen.bottom, box.bottom),
        }
      }
      const innermost = parts.at(-1)
      // What floats over the others is a part of its own.
      const layer = e.closest('[role=dialog], [role=alertdialog], .act-sheet')
      return {
        word: (
          e.textContent ||
          e.getAttribute('name') ||
          e.getAttribute('aria-label') ||
          ''
        ).trim(),
        left,
        right,
        top,
        bottom,
        part: layer
          ? -1 - [...document.querySelectorAll('*')].indexOf(layer)
          : innermost
            ? 1 + PARTS.indexOf(innermost)
            : 0,
        seen: seen.right - seen.left > 1 && seen.bottom - seen.top > 1 ? seen : null,
        isMain: e.matches('.main'),
        isRow: e.matches('.row, .lane, .cup'),
        isDestructive: e.matches('.hold, [data-destructive]'),
      }
    })
  })
}

type Box = Pick<Target, 'left' | 'right' | 'top' | 'bottom'>
const gapOf = (a: Box, b: Box): number =>
  Math.max(
    Math.max(b.left - a.right, a.left - b.right),
    Math.max(b.top - a.bottom, a.top - b.bottom),
  )

/** Half a pixel: a browser lays out in fractions. */
const HAIR = 0.5

/** Every target that is too small, and every two that are too near. */
export function problemsOf(targets: readonly Target[], rules: Rules): string[] {
  const problems: string[] = []
  for (const [n, t] of targets.entries()) {
    const width = t.right - t.left
    const height = t.bottom - t.top
    const leastHeight = t.isMain ? rules.mainHeight : t.isRow ? rules.row : rules.least
    const leastWidth = t.isMain ? rules.mainWidth : rules.least
    if (width < leastWidth - HAIR || height < leastHeight - HAIR)
      problems.push(`"${t.word}" is ${Math.round(width)} x ${Math.round(height)}`)
    for (const other of targets.slice(n + 1)) {
      const isOneLayer = t.part === other.part
      if (!isOneLayer && (t.part < 0 || other.part < 0)) continue
      const [a, b] = isOneLayer ? [t, other] : [t.seen, other.seen]
      if (!a || !b) continue
      const least = t.isDestructive || other.isDestructive ? rules.apart : rules.gap
      const gap = gapOf(a, b)
      if (gap < least - HAIR)
        problems.push(`"${t.word}" and "${other.word}" are ${Math.round(gap)} px apart`)
    }
  }
  return problems
}
