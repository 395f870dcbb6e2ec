/**
 * Commands of earlier protocols, lifted to today's shape before they are parsed: a press that an older
 * kiosk keeps is taken as it was meant. What is lifted comes from outside and may be anything; a lift
 * changes what it knows and leaves the rest for the schemas to say what is wrong.
 */

type Raw = { readonly [field: string]: unknown }
/** Takes a command of one protocol to the next. Pure and total. */
type Lift = (command: Raw) => Raw

/** LIFTS[0] takes the first protocol to the second, and so on. A lift is added, never changed. */
const LIFTS: readonly Lift[] = [
  // The coats of a route's step could be the planned number alone.
  dataOf(['AddPanel', 'SetRoute'], (data) => ({ ...data, route: eachOf(data.route, namedCoats) })),
]

/** The protocol that this program speaks. A command that names none is of the first. */
export const PROTOCOL = LIFTS.length + 1

/**
 * A command in today's shape.
 * @param protocol that it is of: 1 to PROTOCOL
 */
export const lifted = (command: Raw, protocol: number): Raw =>
  LIFTS.slice(protocol - 1).reduce((raw, lift) => lift(raw), command)

/** A lift of the data of some types; also of such data in the replacement of what is voided. */
function dataOf(types: readonly string[], lift: Lift): Lift {
  const liftIn = (command: Raw): Raw => {
    const { type, data } = command
    if (!isRaw(data)) return command
    if (type === 'VoidEntry' && isRaw(data.replace))
      return { ...command, data: { ...data, replace: liftIn(data.replace) } }
    return types.includes(String(type)) ? { ...command, data: lift(data) } : command
  }
  return liftIn
}

function namedCoats(step: Raw): Raw {
  return typeof step.coats === 'number' ? { ...step, coats: { planned: step.coats } } : step
}

const eachOf = (list: unknown, lift: Lift): unknown =>
  Array.isArray(list) ? list.map((item: unknown) => (isRaw(item) ? lift(item) : item)) : list

export const isRaw = (value: unknown): value is Raw =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
