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

export const es: typeof en = {
  offer: 'Probar con un taller inventado',
  offerHint: 'Tiene su propio registro: nada de él llega a este.',
  starting: 'Se prepara el taller de práctica…',
  notStarted: 'El taller de práctica no ha arrancado.',
  here: (speed) => `Taller de práctica. Todo es inventado; su reloj va ${speed} veces más rápido.`,
  again: 'MANTENER PARA EMPEZAR DE NUEVO',
  leave: 'A mi taller',
}
