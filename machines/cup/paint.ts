/** What a color stood for when its cup was mixed. A key such as "body" says that only within its job. */
export type Paint = {
  readonly job: string | null
  readonly code?: string
  readonly variant?: string
  /** Tinted by hand: it fits its own job only, until somebody says otherwise with a reason. */
  readonly tint?: string
}

/** A color with what it stands for. `paint` is absent where an entry of before did not say. */
export type Coloured = { readonly colour: string | null; readonly paint?: Paint | undefined }

/** Whether two are of one code that is typed, and of one variant. */
export const isSameCode = (a: Paint, b: Paint): boolean =>
  a.code !== undefined && a.code === b.code && (a.variant ?? '') === (b.variant ?? '')

/**
 * Whether two colors are the same: the same job's key, or the same code and variant. What was mixed
 * for no job is known by its key, or by a code, alone.
 */
export function isSameColour(a: Coloured, b: Coloured): boolean {
  if (a.colour === null || b.colour === null) return a.colour === b.colour
  const [one, other] = [a.paint, b.paint]
  if (!one || !other) return a.colour === b.colour
  if (one.job !== null && other.job !== null) {
    if (one.job === other.job) return a.colour === b.colour
    const isTinted = one.tint !== undefined || other.tint !== undefined
    return !isTinted && isSameCode(one, other)
  }
  return a.colour === b.colour || a.colour === other.code || b.colour === one.code
}

/** The kinds of colors with flakes in them. */
const EFFECTS: readonly string[] = ['metallic', 'pearl', 'three-stage', 'effect']
export const hasFlakes = (kind: string): boolean => EFFECTS.includes(kind)
