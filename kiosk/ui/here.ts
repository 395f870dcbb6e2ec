/**
 * Asked when something is sent: a person who has gone to another screen until the answer comes is not fetched back.
 * By the address: what sent it may be gone from the screen just because it was taken.
 * @returns whether the screen is still the one of then
 */
export function fromHere(): () => boolean {
  const { hash } = location
  return () => location.hash === hash
}
