/** Where material came from and where it went, as the server answers it. */

/** What may be followed: a lot of a container, a cup, a panel. */
export const FOLLOWED = ['lot', 'cup', 'panel'] as const
export type Followed = (typeof FOLLOWED)[number]

/** A container's lot as it was typed, and what it was of; null where nobody said. */
export type LotOf = { readonly lot: string; readonly component: string | null }

export type CupOf = {
  readonly cup: string
  /** Null where the cup's own entry is not in the log yet. */
  readonly name: string | null
  readonly sheet: string | null
  readonly activator: string | null
  readonly reducer: string | null
  /** UTC ms. */
  readonly mixedAt: number | null
  readonly job: string | null
  /** Empty: not recorded. */
  readonly lots: readonly LotOf[]
  /** The cups that it was poured from. */
  readonly parents: readonly string[]
}

export type CoatOf = {
  readonly entry: string
  /** UTC ms. */
  readonly at: number
  readonly panel: string
  readonly panelName: string | null
  readonly job: string | null
  readonly jobTitle: string | null
  readonly stage: string | null
  readonly cup: string
}

/**
 * GET /api/genealogy/:kind/:id: every coat that a lot, a cup or a panel reaches, the last first, a page at a
 * time, with the cups of that page and all that these were poured from.
 */
export type GenealogyAnswer = {
  readonly of: { readonly kind: Followed; readonly id: string }
  readonly counts: {
    readonly coats: number
    readonly panels: number
    readonly jobs: number
    readonly cups: number
  }
  readonly coats: readonly CoatOf[]
  readonly cups: readonly CupOf[]
  readonly isMore: boolean
  /** How many entries of the log were not looked through yet. */
  readonly behind: number
}

/** A job that went well, beside one that did not: how many of its products it has, and whether its color is the same. */
export type AlikeJob = {
  readonly job: string
  readonly title: string
  /** When something was last sprayed on it, UTC ms. */
  readonly at: number
  readonly sheets: number
  readonly isSameColour: boolean
}

/** GET /api/jobs/:id/alike: at most three, the most alike first. */
export type AlikeAnswer = { readonly jobs: readonly AlikeJob[]; readonly behind: number }

/** GET /api/lots?find=: the lots that are known, the last used first. */
export type LotsAnswer = {
  readonly lots: readonly (LotOf & { readonly cups: number; readonly lastAt: number })[]
  readonly isMore: boolean
  readonly behind: number
}
