import type { en } from './practice.ts'

export const es: typeof en = {
  offer: 'Probar con un taller inventado',
  offerHint: 'Tiene su propio registro: nada de ahí llega al suyo.',
  starting: 'Preparando el taller de práctica …',
  notStarted: 'El taller de práctica no arrancó.',
  here: (speed) => `Taller de práctica. Todo es inventado; su reloj va ${speed} veces más rápido.`,
  again: 'MANTENGA PARA EMPEZAR DE NUEVO',
  leave: 'Volver a mi taller',
}
