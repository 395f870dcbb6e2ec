/**
 * A time of day as clocks show it, 24 hours.
 * @param atMs UTC ms
 * @param timeZone IANA name; without it the device's own
 */
export function clockText(atMs: number, timeZone?: string): string {
  const zone = timeZone === undefined ? {} : { timeZone }
  return new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', ...zone }).format(
    atMs,
  )
}
