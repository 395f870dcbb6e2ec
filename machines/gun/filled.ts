import type { Draft } from '../envelope.ts'
import { findings } from '../lineage.ts'
import type { State } from '../state.ts'
import type { Thing } from '../things.ts'

/** Whether an entry is of a cup that took what was in a gun. */
export const isOutOfGun = ({ type, gun, data }: Draft): boolean =>
  gun !== undefined && (type === 'GunPouredBack' || (type === 'CupPoured' && data.role === 'child'))

/** Whether an entry is of a cup into which something came out of a gun or another cup. */
export const isFilled = (e: Draft): boolean =>
  isOutOfGun(e) || (e.type === 'CupPoured' && e.data.role === 'child')

type Cups = State['things']['cup']

const NEVER = -1
const lastIn = (cup: Thing<'cup'> | undefined): number =>
  cup?.entries.findLast(isFilled)?.at ?? NEVER

const lasts = findings<Cups, number>()

/** After this instant nothing came out of a gun or another cup into any cup, UTC ms; below 0 where nothing ever did. */
function lastFilled(cups: Cups): number {
  const { was, ids } = lasts.since(cups) ?? { was: NEVER, ids: Object.keys(cups) }
  return lasts.keep(
    cups,
    ids.reduce((most, id) => Math.max(most, lastIn(cups[id])), was),
  )
}

/**
 * The cups into which something came out of a gun or another cup at an instant or later. Nearly every entry is later than
 * all of that: then no cup is looked at.
 * @param isMeant whether an entry that says so is meant; without it each is
 */
export const filledSince = (
  cups: Cups,
  fromMs: number,
  isMeant: (entry: Draft) => boolean = () => true,
): string[] =>
  fromMs > lastFilled(cups)
    ? []
    : Object.keys(cups).filter((id) =>
        cups[id]?.entries.some((e) => fromMs <= e.at && isFilled(e) && isMeant(e)),
      )
