import { type BodyPanel, type BodyType, bodyTypes } from '../../machines/trade/panels.ts'
import type { Words } from '../words/en.ts'
import { es } from '../words/jobs.es.ts'
import { en } from '../words/jobs.ts'

/**
 * A body drawn from above with its sides unfolded, from the data of machines/trade/panels.ts: every
 * panel is a field of at least one unit by one, so that every one of them can be touched. Lengths
 * run from the front (0) to the rear, widths from the left (−) to the right (+). Proportions are
 * those of a target, not of a vehicle.
 */

/** Across: the middle, then a side, then what stands outside it. */
const MIDDLE = 1.05
const SIDE = 2.35
const OUTER = 3.35

type Row = 'middle' | 'half' | 'side' | 'outer'
type Spot = {
  readonly panel: string
  readonly row: Row
  readonly from: number
  readonly to: number
}
/** Glass and an open bed: drawn, not painted. */
type Decor = { readonly kind: 'glass' | 'bed'; readonly from: number; readonly to: number }
type Plan = { readonly spots: readonly Spot[]; readonly decor: readonly Decor[] }

const spot = (panel: string, row: Row, from: number, to: number): Spot => ({ panel, row, from, to })

const PLANS: Record<BodyType['id'], Plan> = {
  car: {
    spots: [
      spot('front-bumper', 'middle', 0, 1),
      spot('hood', 'middle', 1, 2.6),
      spot('roof', 'middle', 3.1, 4.9),
      spot('trunk-lid', 'middle', 5.3, 6.4),
      spot('rear-bumper', 'middle', 6.4, 7.4),
      spot('front-fender', 'side', 0.5, 2.2),
      spot('front-door', 'side', 2.2, 3.6),
      spot('rear-door', 'side', 3.6, 4.9),
      spot('quarter-panel', 'side', 4.9, 6.8),
      spot('mirror', 'outer', 1.2, 2.2),
      spot('rocker', 'outer', 2.2, 4.9),
    ],
    decor: [
      { kind: 'glass', from: 2.6, to: 3.1 },
      { kind: 'glass', from: 4.9, to: 5.3 },
    ],
  },
  van: {
    spots: [
      spot('front-bumper', 'middle', 0, 1),
      spot('hood', 'middle', 1, 2.1),
      spot('roof', 'middle', 2.6, 6),
      spot('rear-door', 'half', 6, 7.1),
      spot('rear-bumper', 'middle', 7.1, 8.1),
      spot('front-fender', 'side', 0.5, 1.8),
      spot('front-door', 'side', 1.8, 3.1),
      spot('side-door', 'side', 3.1, 4.6),
      spot('rear-side', 'side', 4.6, 6.4),
      spot('mirror', 'outer', 0.8, 1.8),
      spot('rocker', 'outer', 1.8, 6.4),
    ],
    decor: [{ kind: 'glass', from: 2.1, to: 2.6 }],
  },
  'pick-up': {
    spots: [
      spot('front-bumper', 'middle', 0, 1),
      spot('hood', 'middle', 1, 2.5),
      spot('roof', 'middle', 3, 4.5),
      spot('tailgate', 'middle', 6.2, 7.2),
      spot('rear-bumper', 'middle', 7.2, 8.2),
      spot('front-fender', 'side', 0.5, 2),
      spot('front-door', 'side', 2, 3.2),
      spot('rear-door', 'side', 3.2, 4.3),
      spot('cab-corner', 'side', 4.3, 5.3),
      spot('bed-side', 'side', 5.3, 7),
      spot('mirror', 'outer', 1, 2),
      spot('rocker', 'outer', 2, 5.3),
    ],
    decor: [
      { kind: 'glass', from: 2.5, to: 3 },
      { kind: 'bed', from: 4.6, to: 6.2 },
    ],
  },
}

/** A rectangle: along from `from` to `to`, across from `left` to `right`. */
export type Field = {
  readonly id: string
  readonly from: number
  readonly to: number
  readonly left: number
  readonly right: number
  /** The line that closes the shape, along and across by turns. */
  readonly shape: readonly Point[]
}
type Point = readonly [along: number, across: number]
export type Outline = {
  readonly length: number
  readonly width: number
  readonly panels: readonly Field[]
  readonly decor: readonly (Field & { readonly kind: Decor['kind'] })[]
}

const SIDES = ['left', 'right'] as const

function across(row: Row, side: 'left' | 'right' | null): readonly [number, number] {
  if (row === 'middle') return [-MIDDLE, MIDDLE]
  const [near, far] = row === 'half' ? [0, MIDDLE] : row === 'side' ? [MIDDLE, SIDE] : [SIDE, OUTER]
  return side === 'left' ? [-far, -near] : [near, far]
}

/** Where a wheel is cut out of a side. */
const ARCHES = ['front-fender', 'quarter-panel', 'rear-side', 'bed-side']
const ARCH_STEPS = 8
const ARCH_LONG = 0.42
const ARCH_DEEP = 0.2

function fieldOf({ panel, row, from, to }: Spot, side: 'left' | 'right' | null): Field {
  const [left, right] = across(row, side)
  const id = side === null ? panel : `${side}-${panel}`
  const box = { id, from, to, left, right }
  return { ...box, shape: shapeOf(panel, box, side) }
}

type Box = Omit<Field, 'shape'>

function shapeOf(panel: string, box: Box, side: 'left' | 'right' | null): readonly Point[] {
  const { from, to, left, right } = box
  const taper = 0.28
  if (panel === 'front-bumper')
    return [
      [from + 0.3, left],
      [from, left + taper],
      [from, right - taper],
      [from + 0.3, right],
      [to, right],
      [to, left],
    ]
  if (panel === 'rear-bumper')
    return [
      [from, left],
      [from, right],
      [to - 0.3, right],
      [to, right - taper],
      [to, left + taper],
      [to - 0.3, left],
    ]
  return side !== null && ARCHES.includes(panel) ? archedShape(box, side) : straight(box)
}

const straight = ({ from, to, left, right }: Omit<Box, 'id'>): readonly Point[] => [
  [from, left],
  [from, right],
  [to, right],
  [to, left],
]

/** A side with its wheel cut out of its lower edge. */
function archedShape({ from, to, left, right }: Box, side: 'left' | 'right'): readonly Point[] {
  const road = side === 'left' ? left : right
  const roof = side === 'left' ? right : left
  const inward = Math.sign(roof - road)
  const middle = (from + to) / 2
  const arch = Array.from({ length: ARCH_STEPS + 1 }, (_, i): Point => {
    const angle = Math.PI * (1 - i / ARCH_STEPS)
    return [middle + ARCH_LONG * Math.cos(angle), road + inward * ARCH_DEEP * Math.sin(angle)]
  })
  return [[from, road], ...arch, [to, road], [to, roof], [from, roof]]
}

/** The drawing of a body, with every panel of its data once. */
export function outlineOf(body: BodyType): Outline {
  const { spots, decor } = PLANS[body.id]
  const panels = spots.flatMap((one) =>
    one.row === 'middle' ? [fieldOf(one, null)] : SIDES.map((side) => fieldOf(one, side)),
  )
  const shown = decor.map(({ kind, from, to }) => ({ kind, ...glassOf(from, to) }))
  return { length: Math.max(...panels.map(({ to }) => to)), width: 2 * OUTER, panels, decor: shown }
}

const glassOf = (from: number, to: number): Field => {
  const box = { id: '', from, to, left: -MIDDLE + 0.15, right: MIDDLE - 0.15 }
  return { ...box, shape: straight(box) }
}

/** `up`: the front is at the top; `left`: the front is on the left. A screen is one or the other. */
export type Facing = 'up' | 'left'

/** A point of the outline as x and y of a drawing of its size. Facing left, the left side is below. */
export const placed = (
  { width }: Outline,
  facing: Facing,
  [along, side]: Point,
): readonly [number, number] =>
  facing === 'up' ? [side + width / 2, along] : [along, width / 2 - side]

/**
 * Which body a job is about, and what its panels are called. The log keeps plain names; a drawing is
 * found again by them, in whichever language they were given.
 */

const LANGUAGES: readonly Pick<Words, 'jobs'>[] = [{ jobs: en }, { jobs: es }]

export const bodyWithId = (id: string | null): BodyType | undefined =>
  bodyTypes.find((body) => body.id === id)

/** A panel's name without its side, as in the drawing. */
export function shortName(words: Words, panel: string): string {
  const side = SIDES.find((one) => panel.startsWith(`${one}-`))
  const own = side === undefined ? panel : panel.slice(side.length + 1)
  return words.jobs.vehicle.panels[own]?.short ?? own
}

/** A panel's name as the job keeps it: "Right rear door". */
export function fullName(words: Pick<Words, 'jobs'>, panel: string): string {
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
