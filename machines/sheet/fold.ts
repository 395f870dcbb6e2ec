import type { Interval } from '../clock/line.ts'
import type { Draft } from '../envelope.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State } from '../state.ts'
import type { DropOver } from './between.ts'
import type { SheetContext, SheetVersion, ShopFigure } from './context.ts'
import { asPoints, type ReadyFor, waitOf } from './intervals.ts'
import type { Prep, Sheet } from './schema.ts'

function reduce(context: SheetContext, entry: Draft): SheetContext {
  if (entry.type === 'SheetRetired') return { ...context, retiredAt: entry.at }
  if (entry.type === 'ShopFigureSet') {
    const figure = entry.data as Omit<ShopFigure, 'at'>
    return { ...context, figures: [...(context.figures ?? []), { at: entry.at, ...figure }] }
  }
  const data = entry.data as { sheet: Sheet; version: number }
  const saved = { version: data.version, at: entry.at, sheet: data.sheet }
  return { ...context, versions: [...context.versions, saved], retiredAt: null }
}

export const sheetFolder = plainFolder<SheetContext>({ versions: [], retiredAt: null }, reduce)

/**
 * The version of a sheet that was in force at an instant; for one before its first saving, the
 * first: a cup mixed five minutes before the sheet was typed in is still that product.
 */
export function sheetAt(
  state: State,
  id: string | undefined,
  at: number,
): SheetVersion | undefined {
  const versions = contextOf(state, 'sheet', id)?.versions ?? []
  return versions.findLast((v) => v.at <= at) ?? versions[0]
}

/** Over what the shop sprays a drop coat of a product, as said by an instant; undefined where nobody was asked. */
export const dropOverAt = (state: State, id: string, at: number): DropOver | undefined =>
  contextOf(state, 'sheet', id)?.figures?.findLast(
    (figure) => figure.at <= at && figure.dropOver !== undefined,
  )?.dropOver

/**
 * How a product wants abraded what it goes over: by its sheet, else as the shop said once by an instant.
 * @returns undefined where neither says it
 */
export function prepOver(
  state: State,
  id: string | undefined,
  over: Prep['over'],
  at: number,
): Prep | undefined {
  const own = sheetAt(state, id, at)?.sheet.prepFor?.find((row) => row.over === over)
  const said = contextOf(state, 'sheet', id)?.figures?.findLast(
    (figure) => figure.at <= at && figure.prep?.over === over,
  )
  return own ?? said?.prep
}

/**
 * From when a film of a product is ready for some work, for a coat whose own entry does not say it: by
 * the sheet in force at an instant, else as the shop said once by then.
 * @returns undefined where neither says it
 */
export function readyOver(
  state: State,
  id: string,
  what: ReadyFor,
  at: number,
): Interval | undefined {
  const own = sheetAt(state, id, at)?.sheet.ready?.[what]
  const said = contextOf(state, 'sheet', id)?.figures?.findLast(
    (figure) => figure.at <= at && figure.ready?.for === what,
  )?.ready
  const figure = own ?? said?.after
  return figure === undefined ? undefined : waitOf(asPoints(figure))
}

/** Whether a sheet was retired by an instant: what was mixed before that and comes late is still right. */
export function isRetired(state: State, id: string, at: number): boolean {
  const retiredAt = contextOf(state, 'sheet', id)?.retiredAt ?? null
  return retiredAt !== null && retiredAt <= at
}
