/** Words of the practice shop: how to enter it, the note that it is one, how to leave it. */

export const en = {
  offer: 'Try it with an invented shop',
  offerHint: 'It has its own log: nothing from it gets into yours.',
  starting: 'Setting up the practice shop …',
  notStarted: 'The practice shop did not start.',
  here: (speed: number) =>
    `Practice shop. Everything is invented; its clock runs ${speed} times as fast.`,
  again: 'HOLD TO START OVER',
  leave: 'Back to my own shop',
}
