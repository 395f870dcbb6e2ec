/** Plain values, each once, in the order of their first occurrence. */
export const distinct = <T>(all: readonly T[]): T[] => [
  ...new Map(all.map((one) => [JSON.stringify(one), one])).values(),
]
