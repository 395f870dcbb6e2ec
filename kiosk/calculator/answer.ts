import type { Unit } from '../units/measure.ts'

/**
 * A calculation's answer as rows and tables for the screen. Pure.
 */

export type Cell = { readonly text: string; readonly unit: string }
export type Row = { readonly key: string; readonly cell: Cell }
export type Table = {
  readonly key: string
  readonly columns: readonly string[]
  readonly rows: readonly (readonly Cell[])[]
}
export type Shown = { readonly rows: readonly Row[]; readonly tables: readonly Table[] }

export type Saying = {
  readonly unitFor: (key: string) => Unit
  readonly numberText: (value: number) => string
  readonly weightText: (g: number) => string
  readonly yes: string
  readonly no: string
  /** What an answer that is null means, by its name. */
  readonly none: (key: string) => string
}

function cellOf(key: string, value: unknown, say: Saying): Cell {
  if (typeof value === 'boolean') return { text: value ? say.yes : say.no, unit: '' }
  if (typeof value !== 'number')
    return { text: value === null ? say.none(key) : String(value), unit: '' }
  const unit = say.unitFor(key)
  const shown = unit.fromSi(value)
  return {
    text: unit.word === 'g' ? say.weightText(shown) : say.numberText(shown),
    unit: unit.word,
  }
}

function tableOf(key: string, items: readonly Record<string, unknown>[], say: Saying): Table {
  const columns = Object.keys(items[0] ?? {})
  return {
    key,
    columns,
    rows: items.map((item) => columns.map((column) => cellOf(column, item[column], say))),
  }
}

/** @param result what a calculation gave: numbers, words and lists of such */
export function shownOf(result: unknown, say: Saying): Shown {
  const entries = Object.entries(result as Record<string, unknown>)
  return {
    rows: entries
      .filter(([, value]) => !Array.isArray(value))
      .map(([key, value]) => ({ key, cell: cellOf(key, value, say) })),
    tables: entries
      .filter(([, value]) => Array.isArray(value))
      .map(([key, value]) => tableOf(key, value as Record<string, unknown>[], say)),
  }
}
