export const ROLES = ['painter', 'prepper', 'lead'] as const
export type PersonRole = (typeof ROLES)[number]

export type PersonContext = {
  readonly name: string
  readonly role: PersonRole
  readonly retiredAt: number | null
}
