import type { Draft } from '../envelope.ts'

/** The zones that an entry says something was in. */
export function zoneOfEntry({ zone, data }: Draft): string[] {
  const said = [zone, data.zone, data.cupZone]
  return said.flatMap((one) => (typeof one === 'string' ? [one] : []))
}
