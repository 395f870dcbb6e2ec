import { contextOf, type State } from '../state.ts'
import { type Coloured, isSameCode, isSameColour, type Paint } from './paint.ts'

/** What a job means by one of its colors. */
export function paintOf(state: State, job: string | null, colour: string | null): Paint {
  const found =
    job === null
      ? undefined
      : contextOf(state, 'job', job)?.colours.find(({ key }) => key === colour)
  return {
    job,
    ...(found ? { code: found.code } : {}),
    ...(found?.variant === undefined ? {} : { variant: found.variant }),
  }
}

/**
 * A color as a word that is the same for what is of one color: its code and variant, else its key in its
 * job. What was tinted by hand is not told apart: this is for plans, and nothing is judged by it.
 */
function hueText({ colour, paint }: Coloured): string {
  if (colour === null) return ''
  if (paint?.code !== undefined) return `${paint.code}/${paint.variant ?? ''}`
  return `${paint?.job ?? ''}:${colour}`
}

/** What is in a cup or gun, for a plan: clear is the same for all, a color is of its code, or its job's. */
export const materialOf = (sheet: string, colour: Coloured): string => `${sheet} ${hueText(colour)}`

type CupColour = Coloured & {
  readonly job: string | null
  readonly alsoFor?: readonly string[]
}

/** A cup's color; of a cup of before, as its job says it now. */
export const colourOf = (state: State, cup: CupColour): Coloured => ({
  colour: cup.colour,
  paint: cup.paint ?? paintOf(state, cup.job, cup.colour),
})

/** The color that a panel's step wants; null where the route names none. */
export const wantedColour = (
  state: State,
  job: string,
  colour: string | undefined,
): Coloured | null => (colour === undefined ? null : { colour, paint: paintOf(state, job, colour) })

/** What was tinted for several jobs fits each of them. */
const isMixedFor = (job: string, wanted: Coloured, { alsoFor }: CupColour, held: Coloured) =>
  alsoFor?.includes(job) === true &&
  wanted.paint !== undefined &&
  held.paint !== undefined &&
  isSameCode(wanted.paint, held.paint)

/**
 * Whether a cup may go on a step by its color. A step without one takes any of its own job's, and
 * none that this job does not have.
 */
export function fitsColour(
  state: State,
  job: string,
  colour: string | undefined,
  cup: CupColour,
): boolean {
  if (cup.colour === null) return true
  const wanted = wantedColour(state, job, colour)
  const held = colourOf(state, cup)
  if (wanted) return isSameColour(wanted, held) || isMixedFor(job, wanted, cup, held)
  const own = contextOf(state, 'job', job)?.colours ?? []
  const isAnyJobs = cup.job === null || cup.job === job || own.length === 0
  return (
    isAnyJobs ||
    own.some(({ key }) => isSameColour({ colour: key, paint: paintOf(state, job, key) }, held))
  )
}

/** All that is said of a color: key, code, variant and hand-made variant. */
export const textOf = ({ colour, paint }: Coloured): string =>
  [colour, paint?.code, paint?.variant, paint?.tint].filter(Boolean).join(' ')

/** How a refusal names a color beside another: by its key, or by all of it where the keys are the same. */
export function colourText(state: State, one: Coloured, beside: Coloured | null): string | null {
  if (one.colour === null || one.colour !== beside?.colour) return one.colour
  const text = textOf(one)
  if (text !== textOf(beside)) return text
  const title = contextOf(state, 'job', one.paint?.job ?? '')?.title
  return title === undefined ? text : `${text} (${title})`
}
