/**
 * A machine that is made when it is first looked into. XState reads a chart as a whole, which takes a slow
 * device a tenth of a second for all of ours; a Wall is drawn from the server's state, and needs none of them.
 * @param make called once
 */
export function madeWhenAsked<M extends object>(make: () => M): M {
  let made: M | null = null
  const machine = (): M => {
    made ??= make()
    return made
  }
  return new Proxy({} as M, {
    get: (_, key) => Reflect.get(machine(), key),
    set: (_, key, value) => Reflect.set(machine(), key, value),
    has: (_, key) => Reflect.has(machine(), key),
    getPrototypeOf: () => Reflect.getPrototypeOf(machine()),
  })
}
