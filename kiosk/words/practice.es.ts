import type { en } from './practice.ts'

export const es: typeof en = {
  offer: 'Probar con un taller inventado',
  offerHint: 'Tiene su propio registro: nada de él llega a este.',
  starting: 'Se prepara el taller de práctica…',
  notStarted: 'El taller de práctica no ha arrancado.',
  here: (speed) => `Taller de práctica. Todo es inventado; su reloj va ${speed} veces más rápido.`,
  again: 'MANTENER PARA EMPEZAR DE NUEVO',
  leave: 'A mi taller',
}
