export const ROLES = ['painter', 'prepper', 'lead'] as const
export type PersonRole = (typeof ROLES)[number]

/** When a training was completed, UTC ms. */
export type Training = { readonly kind: 'initial' | 'refresher'; readonly doneMs: number }

export type PersonContext = {
  readonly name: string
  readonly role: PersonRole
  readonly trainings?: readonly Training[]
  readonly retiredAt: number | null
}
