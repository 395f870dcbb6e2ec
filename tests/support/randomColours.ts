import type { Draft } from '../../machines/envelope.ts'
import type { JobColour } from '../../machines/job/machine.ts'
import type { Known } from './randomKnown.ts'

/** Colors by what the log says of them: of which job a key is, and what that job means by it. */
export type Hue = {
  readonly key: string
  readonly job: string | null
  readonly meant: JobColour | undefined
  /** The variant that a hand made of it. */
  readonly tint?: string
}

function coloursOf(known: Known, job: string | null): readonly JobColour[] {
  const opened = known.live.find((e) => e.type === 'JobOpened' && e.job === job)
  return (opened?.data.colours as readonly JobColour[] | undefined) ?? []
}

const hue = (known: Known, job: string | null, key: string): Hue => ({
  key,
  job,
  meant: coloursOf(known, job).find((c) => c.key === key),
})

/** The color of a cup by the entry that it began with; null for one without. */
export function hueOfCup(known: Known, born: Draft | undefined): Hue | null {
  const key = born?.data.colour
  if (typeof key !== 'string') return null
  const tint = tintOf(born)
  return { ...hue(known, born?.job ?? null, key), ...(tint === undefined ? {} : { tint }) }
}

/** The tint of a cup by the entry that it began with. */
export function tintOf(born: Draft | undefined): string | undefined {
  const { tint } = (born?.data.paint ?? {}) as { readonly tint?: string }
  return tint
}

export function isSameHue(a: Hue | null, b: Hue | null): boolean {
  if (a === null || b === null) return a === b
  if (a.job === b.job && a.job !== null) return a.key === b.key
  const isOneCode =
    a.meant !== undefined &&
    a.meant.code === b.meant?.code &&
    (a.meant.variant ?? '') === (b.meant.variant ?? '')
  const isTinted = a.tint !== undefined || b.tint !== undefined
  if (a.job !== null && b.job !== null) return isOneCode && !isTinted
  return a.key === b.key || a.key === b.meant?.code || b.key === a.meant?.code
}

/** Whether a cup is of another color than a step of a panel's job wants. */
export function isOtherColour(
  known: Known,
  job: string,
  wanted: string | undefined,
  born: Draft | undefined,
): boolean {
  const held = hueOfCup(known, born)
  if (held === null) return false
  if (wanted !== undefined) return !isSameHue(hue(known, job, wanted), held)
  const own = coloursOf(known, job)
  const isFree = held.job === null || held.job === job || own.length === 0
  return !isFree && !own.some(({ key }) => isSameHue(hue(known, job, key), held))
}
