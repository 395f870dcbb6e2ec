import {
  ACCEPTABLE_PER_PERIOD,
  type BellFigures,
  CEILING_PER_PERIOD,
  FLOOD_SHARE_AIM,
  type Source,
} from '../../machines/bell/figures.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'

/** What the figures of the bells mean. Pure. */

/** Periods that may be looked at, in days. */
export const PERIODS = [1, 7, 30] as const
export type Days = (typeof PERIODS)[number]

/** What the route asks for; the 30 days that the shares are meant for, if it asks for nothing known. */
export const daysOf = (asked: string | undefined): Days =>
  PERIODS.find((days) => String(days) === asked) ?? 30

type Rate = 'acceptable' | 'manageable' | 'tooMany'

/** Judged as shown, to a tenth: "1.0 is more than 1" would confuse. */
export function rateOf({ perPeriod }: Pick<BellFigures, 'perPeriod'>): Rate {
  const shown = Math.round(perPeriod * 10) / 10
  if (shown <= ACCEPTABLE_PER_PERIOD) return 'acceptable'
  return shown <= CEILING_PER_PERIOD ? 'manageable' : 'tooMany'
}

export const isFlooded = ({ floodShare }: Pick<BellFigures, 'floodShare'>): boolean =>
  floodShare >= FLOOD_SHARE_AIM

/**
 * What a source is called here.
 * @returns the name that the shop gave it, or its id where the state has evicted it
 */
export function nameOfSource(state: State, of: NonNullable<Source['of']>): string {
  switch (of.kind) {
    case 'job':
      return contextOf(state, 'job', of.id)?.title || of.id
    case 'gun':
      return contextOf(state, 'gun', of.id)?.spec?.name ?? of.id
    case 'panel':
      return panelName(state, of.id)
    case 'cup':
      return of.id
  }
}
