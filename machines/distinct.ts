/** Plain values, each once, in the order in which they first stand. */
export const distinct = <T>(all: readonly T[]): T[] => [
  ...new Map(all.map((one) => [JSON.stringify(one), one])).values(),
]
