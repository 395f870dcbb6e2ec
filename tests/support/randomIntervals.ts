/**
 * A second calculation of intervals, for random tests: it steps through time where machines/clock
 * solves, and goes by an activation energy where machines/clock draws a line. It shares no code
 * with what it checks.
 */

export type Figure = { readonly atC: number; readonly minutes: number }
export type Wait = {
  readonly kind: 'notBefore' | 'notAfter'
  readonly points: readonly Figure[]
  readonly waterborneRhRef?: number
  readonly isTable?: true
  /** While nobody knows the air, figures near to the last reading count as well. */
  readonly nearWhenBlind?: true
}
export type Air = { readonly at: number; readonly airC: number; readonly rh?: number }
/** What somebody said of a day's air. */
export type Range = {
  readonly at: number
  readonly untilMs: number
  readonly minC: number
  readonly maxC: number
  readonly rhMin?: number
  readonly rhMax?: number
}
/** That what must not take too long is as warm as a bake was set to. */
export type Heated = { readonly fromMs: number; readonly untilMs: number; readonly setC: number }
export type World = {
  readonly stays: readonly {
    readonly fromMs: number
    readonly readings: readonly Air[]
    readonly ranges?: readonly Range[]
    readonly heated?: readonly Heated[]
  }[]
  readonly parts: readonly { readonly at: number; readonly partC: number }[]
  readonly staleMs: number
  /** From an instant on the air of another world counts as well. */
  readonly also?: { readonly fromMs: number; readonly climate: World }
}

const HALF_HOUR_MS = 1_800_000
/** No wait is longer than this: a steep curve followed far into the cold would overflow. */
const CENTURY_MIN = 100 * 366 * 1_440
const kelvin = (c: number) => c + 273.15

/** WMO-No. 8 (2008), over water, in hPa. */
const saturation = (c: number) => 6.112 * Math.exp((17.62 * c) / (243.12 + c))

/** ln(m2/m1) = E/R (1/T2 - 1/T1) gives E/R, which gives the time at any other temperature. */
function byEnergy(one: Figure, two: Figure, c: number): number {
  const energy = Math.log(two.minutes / one.minutes) / (1 / kelvin(two.atC) - 1 / kelvin(one.atC))
  const minutes = one.minutes * Math.exp(energy * (1 / kelvin(c) - 1 / kelvin(one.atC)))
  return Math.min(minutes, CENTURY_MIN)
}

const careful = (kind: Wait['kind'], a: number, b: number) =>
  kind === 'notBefore' ? Math.max(a, b) : Math.min(a, b)

/** Minutes that a sheet's figures ask for at a temperature. */
export function minutesByFigures({ kind, points }: Wait, c: number): number {
  const own = points[0] as Figure
  if (own.minutes === 0) return 0
  if (points.length === 1)
    return careful(kind, own.minutes, own.minutes * 2 ** ((own.atC - c) / 10))
  const cold = [...points].sort((a, b) => a.atC - b.atC)
  const last = cold.length - 1
  const [first, second] = [cold[0] as Figure, cold[1] as Figure]
  const [before, end] = [cold[last - 1] as Figure, cold[last] as Figure]
  if (c <= first.atC) return careful(kind, first.minutes, byEnergy(first, second, c))
  if (c >= end.atC) return careful(kind, end.minutes, byEnergy(before, end, c))
  const i = cold.findIndex((p) => p.atC >= c)
  return byEnergy(cold[i] as Figure, cold[i - 1] as Figure, c)
}

/** A waterborne film gives its water to what the air can still take up. */
function minutesByDrying(wait: Wait, rhRef: number, c: number, rh: number, airC: number): number {
  const own = wait.points[0] as Figure
  if (own.minutes === 0) return 0
  if (rh >= 0.95) return Number.POSITIVE_INFINITY
  const there = saturation(own.atC) * (1 - rhRef)
  const isOff = wait.isTable === true && c !== airC
  const here = isOff ? saturation(c) - rh * saturation(airC) : saturation(c) * (1 - rh)
  if (isOff && here <= there / 20) return Number.POSITIVE_INFINITY
  const isTyped = wait.isTable === true && wait.points.length > 1
  const typed = isTyped ? minutesByFigures(wait, c) : 0
  return Math.max(typed, own.minutes, (own.minutes * there) / here)
}

/** The youngest item that is not younger than t. */
function latest<T extends { readonly at: number }>(items: readonly T[], t: number): T | undefined {
  let found: T | undefined
  for (const item of items) if (item.at <= t) found = item
  return found
}

/** Minutes that a wait is long in the air of an instant. */
export function minutesNow(wait: Wait, world: World, t: number): number {
  const { also } = world
  const here = minutesHere(wait, world, t)
  return also && t >= also.fromMs
    ? careful(wait.kind, here, minutesNow(wait, also.climate, t))
    : here
}

function minutesHere(wait: Wait, world: World, t: number): number {
  const inAir = minutesInAir(wait, world, t)
  if (wait.kind === 'notBefore') return inAir
  let stay = world.stays[0]
  for (const next of world.stays) if (next.fromMs <= t) stay = next
  const hot = (stay?.heated ?? []).filter((h) => h.fromMs <= t && t < h.untilMs)
  return Math.min(inAir, ...hot.map((h) => minutesByFigures(wait, h.setC)))
}

function minutesInAir(wait: Wait, world: World, t: number): number {
  const own = (wait.points[0] as Figure).minutes
  let stay = world.stays[0]
  for (const next of world.stays) if (next.fromMs <= t) stay = next
  const readings = stay?.readings ?? []
  const air = latest(readings, t) ?? readings[0]
  const touched = latest(world.parts, t)
  const part = touched && t < touched.at + HALF_HOUR_MS ? touched.partC : null
  const inAir = (airC: number, rh: number | undefined) => {
    const colder = part === null ? airC : Math.min(part, airC)
    const warmer = part === null ? airC : Math.max(part, airC)
    const felt = wait.kind === 'notBefore' ? colder : warmer
    return wait.waterborneRhRef === undefined || rh === undefined
      ? minutesByFigures(wait, felt)
      : minutesByDrying(wait, wait.waterborneRhRef, felt, rh, airC)
  }
  if (air && t < air.at + world.staleMs) return inAir(air.airC, air.rh)
  const said = latest(stay?.ranges ?? [], t)
  const worst = (all: readonly number[]) => all.reduce((a, b) => careful(wait.kind, a, b))
  if (said && t < said.untilMs) {
    const temps = [said.minC, said.maxC, ...(air ? [air.airC] : [])].sort((a, b) => a - b)
    const damp = [said.rhMin, said.rhMax, air?.rh].filter((rh) => rh !== undefined)
    const rh = damp.length > 0 ? Math.max(...damp) : undefined
    const inside = wait.points
      .map((p) => p.atC)
      .filter((c) => c > (temps[0] ?? c) && c < (temps.at(-1) ?? c))
    return worst([...temps, ...inside].map((c) => inAir(c, rh)))
  }
  const near = wait.points.filter((p) => Math.abs(p.atC - (air?.airC ?? 20)) <= 10)
  const figures = wait.nearWhenBlind ? near.map((p) => p.minutes) : []
  if (!air)
    return worst([own, ...figures, ...(part === null ? [] : [minutesByFigures(wait, part)])])
  return worst([own, ...figures, inAir(air.airC, air.rh)])
}

/** Every instant at which the air that counts may change. */
export function changesOf(world: World): number[] {
  const all = [
    ...world.stays.flatMap((s) => [
      s.fromMs,
      ...s.readings.flatMap((r) => [r.at, r.at + world.staleMs]),
      ...(s.ranges ?? []).flatMap((r) => [r.at, r.untilMs]),
      ...(s.heated ?? []).flatMap((h) => [h.fromMs, h.untilMs]),
    ]),
    ...world.parts.flatMap((p) => [p.at, p.at + HALF_HOUR_MS]),
    ...(world.also ? [world.also.fromMs, ...changesOf(world.also.climate)] : []),
  ]
  return all.filter(Number.isFinite).sort((a, b) => a - b)
}

export type Used = {
  /** The part of the wait that is over. */
  readonly used: number
  /** How far that may be off: one step for each change of the air. */
  readonly error: number
  /** The fastest rate met, parts of the wait per ms. */
  readonly fastest: number
}

/** How much of a wait is used up between two instants, by steps of stepMs. */
export function usedUp(
  wait: Wait,
  world: World,
  fromMs: number,
  untilMs: number,
  stepMs: number,
): Used {
  const rate = (t: number) => 1 / (minutesNow(wait, world, t) * 60_000)
  const changes = changesOf(world).filter((t) => t > fromMs && t < untilMs)
  let next = 0
  let used = 0
  let error = 0
  let now = rate(fromMs)
  let fastest = now
  for (let t = fromMs; t < untilMs; t += stepMs) {
    const dt = Math.min(stepMs, untilMs - t)
    used += now * dt
    while (next < changes.length && (changes[next] as number) < t + dt) {
      const then = rate(changes[next] as number)
      fastest = Math.max(fastest, then)
      error += (now + then) * dt
      next += 1
    }
    now = rate(t + dt)
    fastest = Math.max(fastest, now)
  }
  return { used, error, fastest }
}
