/**
 * A long reckoning in parts: between two of them others may be answered.
 * @returns what it comes to, with all its parts done at once
 */
export function atOnce<T>(parts: Generator<void, T>): T {
  for (;;) {
    const part = parts.next()
    if (part.done) return part.value
  }
}
