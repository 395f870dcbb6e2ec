/**
 * Panels of the bodies a shop meets, for adding them to a job by touch and for knowing what stands
 * beside what when a color is blended. Names and areas are this project's own.
 */

export type BodyPanel = {
  readonly id: string
  readonly name: string
  /** Outer face, m². A proposal only: see AREAS_ARE. */
  readonly areaM2: number
}

export type BodyType = {
  readonly id: 'car' | 'van' | 'pick-up'
  readonly name: string
  readonly panels: readonly BodyPanel[]
  /** Pairs of ids that share a gap a color step would show across. */
  readonly adjacent: readonly (readonly [string, string])[]
  /** Those of them that are one piece of metal: no edge ends a clear there, only a body line. */
  readonly seamless: readonly (readonly [string, string])[]
}

/** Stands wherever one of these areas is proposed. */
export const AREAS_ARE =
  'Areas are a rule of thumb from memory, ±40 %, outer face only: measure and edit them.'

type Row = readonly [id: string, name: string, areaM2: number]
type Pair = readonly [string, string]

const SIDES = [
  ['left', 'Left'],
  ['right', 'Right'],
] as const

/** A body from its middle and one side: the other side is its mirror image. */
function body(
  id: BodyType['id'],
  name: string,
  middle: readonly Row[],
  side: readonly Row[],
  pairs: readonly Pair[],
  welded: readonly Pair[],
): BodyType {
  const isSide = (panel: string) => side.some(([sideId]) => sideId === panel)
  const panels = [
    ...middle.map(([id, name, areaM2]) => ({ id, name, areaM2 })),
    ...SIDES.flatMap(([word, Word]) =>
      side.map(([id, name, areaM2]) => ({ id: `${word}-${id}`, name: `${Word} ${name}`, areaM2 })),
    ),
  ]
  const onBoth = ([a, b]: Pair): Pair[] => {
    if (!isSide(a) && !isSide(b)) return [[a, b]]
    return SIDES.map(([word]) => [isSide(a) ? `${word}-${a}` : a, isSide(b) ? `${word}-${b}` : b])
  }
  return { id, name, panels, adjacent: pairs.flatMap(onBoth), seamless: welded.flatMap(onBoth) }
}

const FRONT: readonly Pair[] = [
  ['hood', 'front-fender'],
  ['hood', 'front-bumper'],
  ['front-fender', 'front-bumper'],
  ['front-fender', 'front-door'],
  ['front-fender', 'rocker'],
  ['front-door', 'mirror'],
  ['front-door', 'rocker'],
]

const car = body(
  'car',
  'Car',
  [
    ['hood', 'Hood', 1.6],
    ['roof', 'Roof', 1.9],
    ['trunk-lid', 'Trunk lid', 1],
    ['front-bumper', 'Front bumper', 1.2],
    ['rear-bumper', 'Rear bumper', 1.2],
  ],
  [
    ['front-fender', 'front fender', 0.65],
    ['front-door', 'front door', 1.1],
    ['rear-door', 'rear door', 1.1],
    ['quarter-panel', 'quarter panel', 1.1],
    ['rocker', 'rocker', 0.35],
    ['mirror', 'mirror', 0.05],
  ],
  [
    ...FRONT,
    ['front-door', 'rear-door'],
    ['rear-door', 'rocker'],
    ['rear-door', 'quarter-panel'],
    ['quarter-panel', 'rocker'],
    ['quarter-panel', 'roof'],
    ['quarter-panel', 'trunk-lid'],
    ['quarter-panel', 'rear-bumper'],
    ['trunk-lid', 'rear-bumper'],
  ],
  [
    ['quarter-panel', 'roof'],
    ['quarter-panel', 'rocker'],
  ],
)

const van = body(
  'van',
  'Van',
  [
    ['hood', 'Hood', 1.2],
    ['roof', 'Roof', 5.5],
    ['front-bumper', 'Front bumper', 1.2],
    ['rear-bumper', 'Rear bumper', 0.8],
  ],
  [
    ['front-fender', 'front fender', 0.6],
    ['front-door', 'front door', 1.2],
    ['side-door', 'side door or panel', 2],
    ['rear-side', 'rear side panel', 3],
    ['rear-door', 'rear door', 1.3],
    ['rocker', 'rocker', 0.5],
    ['mirror', 'mirror', 0.08],
  ],
  [
    ...FRONT,
    ['front-door', 'side-door'],
    ['front-door', 'roof'],
    ['side-door', 'rocker'],
    ['side-door', 'roof'],
    ['side-door', 'rear-side'],
    ['rear-side', 'rocker'],
    ['rear-side', 'roof'],
    ['rear-side', 'rear-door'],
    ['rear-side', 'rear-bumper'],
    ['rear-door', 'roof'],
    ['rear-door', 'rear-bumper'],
    ['left-rear-door', 'right-rear-door'],
  ],
  [
    ['rear-side', 'roof'],
    ['rear-side', 'rocker'],
  ],
)

const pickUp = body(
  'pick-up',
  'Pick-up',
  [
    ['hood', 'Hood', 1.7],
    ['roof', 'Roof', 1.4],
    ['tailgate', 'Tailgate', 0.9],
    ['front-bumper', 'Front bumper', 1],
    ['rear-bumper', 'Rear bumper', 0.5],
  ],
  [
    ['front-fender', 'front fender', 0.75],
    ['front-door', 'front door', 1.1],
    ['rear-door', 'rear door', 0.95],
    ['cab-corner', 'cab corner', 0.3],
    ['bed-side', 'bed side', 1.6],
    ['rocker', 'rocker', 0.35],
    ['mirror', 'mirror', 0.06],
  ],
  [
    ...FRONT,
    ['front-door', 'rear-door'],
    ['rear-door', 'rocker'],
    ['rear-door', 'cab-corner'],
    ['cab-corner', 'rocker'],
    ['cab-corner', 'roof'],
    ['cab-corner', 'bed-side'],
    ['bed-side', 'tailgate'],
    ['bed-side', 'rear-bumper'],
    ['tailgate', 'rear-bumper'],
  ],
  [
    ['cab-corner', 'roof'],
    ['cab-corner', 'rocker'],
  ],
)

export const bodyTypes: readonly BodyType[] = [car, van, pickUp]

/** Ids of the panels next to one, in the body's own order. */
export function neighbors(of: BodyType, panel: string): string[] {
  return of.panels
    .map(({ id }) => id)
    .filter((id) => of.adjacent.some((pair) => pair.includes(id) && pair.includes(panel)))
    .filter((id) => id !== panel)
}
