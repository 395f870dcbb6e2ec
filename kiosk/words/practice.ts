/** Words of the practice shop: the way to it, what says that it is one, the ways out of it. */

export const en = {
  offer: 'Try it with an invented shop',
  offerHint: 'It has a log of its own: nothing of it comes into this one.',
  starting: 'The practice shop is being laid out…',
  notStarted: 'The practice shop did not start.',
  here: (speed: number) => `Practice shop. All is invented; its clock runs ${speed} times as fast.`,
  again: 'HOLD TO START OVER',
  leave: 'To my own shop',
}
