import { inkDots } from '../../labels/glyphs.ts'
import type { DrawItem, LabelLayout, QrItem, TextItem } from '../../labels/layout.ts'

export type Box = { left: number; top: number; right: number; bottom: number }

export const textsOf = (layout: LabelLayout): TextItem[] =>
  layout.items.filter((item) => item.kind === 'text')

export const wordsOf = (layout: LabelLayout): string[] => textsOf(layout).map((item) => item.text)

/** All text in reading order, as one line. */
export const said = (layout: LabelLayout): string =>
  textsOf(layout)
    .toSorted((a, b) => a.baseline - b.baseline || a.x - b.x)
    .map((item) => item.text)
    .join(' ')

export function qrOf(layout: LabelLayout): QrItem {
  const qr = layout.items.find((item) => item.kind === 'qr')
  if (!qr) throw new Error('a label without its code')
  return qr
}

/** The dots that an item may darken. */
export function boxOf(item: DrawItem): Box {
  switch (item.kind) {
    case 'text': {
      const ink = inkDots(item.text, item.capDots)
      return {
        left: item.x,
        top: item.baseline - ink.above,
        right: item.x + item.widthDots,
        bottom: item.baseline + ink.below,
      }
    }
    case 'pictogram':
      return {
        left: item.x,
        top: item.y,
        right: item.x + item.sizeDots,
        bottom: item.y + item.sizeDots,
      }
    case 'rule':
      return {
        left: item.x,
        top: item.y,
        right: item.x + item.widthDots,
        bottom: item.y + item.heightDots,
      }
    case 'qr': {
      const side = item.modules * item.moduleDots
      return { left: item.x, top: item.y, right: item.x + side, bottom: item.y + side }
    }
    case 'bars':
      return {
        left: item.x,
        top: item.y,
        right: item.x + item.modules * item.moduleDots,
        bottom: item.y + item.heightDots,
      }
  }
}

const meet = (a: Box, b: Box) =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom

/** Two diamonds are apart when their middles are, along both axes together, a side apart. */
function diamondsMeet(a: Box, b: Box): boolean {
  const side = a.right - a.left
  return Math.abs(a.left - b.left) + Math.abs(a.top - b.top) < side
}

/**
 * White that belongs to a code: four modules round a QR (ISO/IEC 18004), one round a Data Matrix and ten
 * beside bars (GS1 General Specifications, 5.4.4).
 */
function whiteOf(item: DrawItem): { readonly across: number; readonly down: number } {
  if (item.kind === 'bars') return { across: 10 * item.moduleDots, down: 0 }
  if (item.kind !== 'qr') return { across: 0, down: 0 }
  const white = (item.symbology ? 1 : 4) * item.moduleDots
  return { across: white, down: white }
}

/** Pairs of items that touch; the code counts with the white that belongs to it. */
export function touching({ items }: LabelLayout): string[] {
  const wide = (item: DrawItem): Box => {
    const box = boxOf(item)
    const { across, down } = whiteOf(item)
    return {
      left: box.left - across,
      top: box.top - down,
      right: box.right + across,
      bottom: box.bottom + down,
    }
  }
  return items.flatMap((a, i) =>
    items.slice(i + 1).flatMap((b) => {
      const areDiamonds = a.kind === 'pictogram' && b.kind === 'pictogram'
      const isBad = areDiamonds ? diamondsMeet(boxOf(a), boxOf(b)) : meet(wide(a), wide(b))
      return isBad ? [`${JSON.stringify(a)} and ${JSON.stringify(b)}`] : []
    }),
  )
}
