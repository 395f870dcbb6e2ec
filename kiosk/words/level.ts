/** Commissioning the level of a kiosk at the work positions (AL-13). */
export const en = {
  title: 'Commission the level',
  how: 'At each work position, booth fan on: hold a sound level meter, dB(A), where the ear is. Read it with the signal off, then on. Then listen to each bell, with the hearing protection that is worn here.',
  signal: 'Steady test signal',
  start: 'START',
  stop: 'STOP',
  sounds: 'It sounds. A bell ends it, and it ends by itself after a minute.',
  noSound: 'This kiosk gives no sound: touch the lamp at the top.',
  measured: 'What was measured',
  save: 'SAVE',
  over: (db: string) => `${db} dB(A) over the ambient.`,
  passes: 'Passes.',
  target: 'Reaches the target of 15 dB(A).',
  noTarget: 'Passes; 15 dB(A) is the target.',
  fails:
    'Does not pass: 10 dB(A) over the ambient are needed, or 13 dB in one third-octave. It is kept, so that it is known.',
  limits:
    'Never above 100 dB(A) at any ear. Above 90 dB(A) only what the site has signed off in writing.',
  list: 'Commissioned',
  none: 'No work position is commissioned yet.',
  line: (signal: string, ambient: string) => `signal ${signal} dB(A), ambient ${ambient} dB(A)`,
  third: (db: string) => `${db} dB in one third-octave`,
  signedOff: 'signed off by the site',
  nobody: 'nobody named',
}

export const es: typeof en = {
  title: 'Comprobar el nivel',
  how: 'En cada puesto, con el ventilador de la cabina en marcha: sonómetro, dB(A), donde está el oído. Lea sin señal y luego con ella. Después escuche cada timbre con la protección que se lleva aquí.',
  signal: 'Señal de prueba continua',
  start: 'EMPEZAR',
  stop: 'PARAR',
  sounds: 'Está sonando. Un timbre la corta, y se corta sola al minuto.',
  noSound: 'Este quiosco no da sonido: toque la lámpara de arriba.',
  measured: 'Lo medido',
  save: 'GUARDAR',
  over: (db) => `${db} dB(A) sobre el ruido del puesto.`,
  passes: 'Vale.',
  target: 'Llega al objetivo de 15 dB(A).',
  noTarget: 'Vale; el objetivo son 15 dB(A).',
  fails:
    'No vale: hacen falta 10 dB(A) sobre el ruido, o 13 dB en un tercio de octava. Se guarda, para que se sepa.',
  limits:
    'Nunca más de 100 dB(A) en ningún oído. Más de 90 dB(A), solo lo que el centro autoriza por escrito.',
  list: 'Comprobados',
  none: 'Aún no hay ningún puesto comprobado.',
  line: (signal, ambient) => `señal ${signal} dB(A), ruido ${ambient} dB(A)`,
  third: (db) => `${db} dB en un tercio de octava`,
  signedOff: 'autorizado por el centro',
  nobody: 'nadie anotado',
}
