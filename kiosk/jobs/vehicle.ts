import { type BodyPanel, type BodyType, bodyTypes } from '../../machines/trade/panels.ts'
import { en, type Words } from '../words/en.ts'
import { es } from '../words/es.ts'

/**
 * Which body a job is about, and what its panels are called. The log keeps plain names; a drawing is
 * found again by them, in whichever language they were given.
 */

const LANGUAGES: readonly Words[] = [en, es]
const SIDES = ['left', 'right'] as const

export const bodyWithId = (id: string | null): BodyType | undefined =>
  bodyTypes.find((body) => body.id === id)

/** A panel's name without its side, as in the drawing. */
export function shortName(words: Words, panel: string): string {
  const side = SIDES.find((one) => panel.startsWith(`${one}-`))
  const own = side === undefined ? panel : panel.slice(side.length + 1)
  return words.jobs.vehicle.panels[own]?.short ?? own
}

/** A panel's name as the job keeps it: "Right rear door". */
export function fullName(words: Words, panel: string): string {
  const side = SIDES.find((one) => panel.startsWith(`${one}-`))
  const own = side === undefined ? panel : panel.slice(side.length + 1)
  const name = words.jobs.vehicle.panels[own]
  if (!name) return panel
  return side === undefined
    ? name.full
    : words.jobs.vehicle.sided(name.full, side, name.isMasculine)
}

/** What OpenJob keeps of a vehicle: the body's name first, so that the drawing is found again. */
export function vehicleText(words: Words, body: string | null, said: string): string {
  const name = body === null ? '' : (words.jobs.vehicle.bodies[body] ?? '')
  return [name, said.trim()].filter((part) => part !== '').join(', ')
}

/** The body of a job: the one that its vehicle's text begins with. */
export function bodyOfVehicle(vehicle: string | null): BodyType | undefined {
  if (vehicle === null) return undefined
  const first = vehicle.split(',')[0]?.trim().toLowerCase()
  return bodyTypes.find((body) =>
    LANGUAGES.some((words) => words.jobs.vehicle.bodies[body.id]?.toLowerCase() === first),
  )
}

/** The panel of a body that has a name, in any language of the kiosk. */
export const panelNamed = (body: BodyType, name: string): BodyPanel | undefined =>
  body.panels.find(({ id }) => LANGUAGES.some((words) => fullName(words, id) === name))

export const areaText = (areaM2: number): string => `${areaM2} m²`
