/** A stretch of time from one instant to another, both included, UTC ms. */
export type Span = { readonly fromMs: number; readonly toMs: number }

/** Later than every entry; a number that JSON can hold. */
export const FOREVER_MS = Number.MAX_SAFE_INTEGER

export const isWithin = (spans: readonly Span[], at: number): boolean =>
  spans.some(({ fromMs, toMs }) => fromMs <= at && at <= toMs)

/** The same stretches in order, with those that meet or overlap joined. */
export function joined(spans: readonly Span[]): Span[] {
  const all: Span[] = []
  for (const span of spans.toSorted((a, b) => a.fromMs - b.fromMs)) {
    const last = all.at(-1)
    if (last === undefined || span.fromMs > last.toMs + 1) all.push(span)
    else all[all.length - 1] = { ...last, toMs: Math.max(last.toMs, span.toMs) }
  }
  return all
}

/** What two lists of stretches have in common. */
export const overlap = (some: readonly Span[], others: readonly Span[]): Span[] =>
  joined(
    some.flatMap((a) =>
      others.flatMap((b) => {
        const fromMs = Math.max(a.fromMs, b.fromMs)
        const toMs = Math.min(a.toMs, b.toMs)
        return fromMs <= toMs ? [{ fromMs, toMs }] : []
      }),
    ),
  )
