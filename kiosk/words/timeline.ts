import type { Words } from './en.ts'

/** Words of the timeline of a job and of what was known at a moment, in both languages: fetched with Trace. */
const en = {
  dew: 'Dew margin',
  dewLimit: (limit: string) => `at least ${limit}`,
  under: 'under the limit',
  movers: 'air movers on',
  knownLater: 'Known later',
  /** Of a mark: what it stands for, and when the log came to know it. */
  toldAt: (time: string) => `entered ${time}`,
  takenBackAt: (time: string) => `taken back ${time}`,
  toldLater: (n: number) =>
    n === 1
      ? '1 entry about the time before came later: it is drawn apart, in its own row'
      : `${n} entries about the time before came later: they are drawn apart, in their own row`,
  minuteBack: '← 1 MIN',
  minuteOn: '1 MIN →',
  savePicture: { png: 'SAVE AS PICTURE (PNG)', pdf: 'SAVE FOR PAPER (PDF)' },
  notSaved: 'This device could not draw the picture. Show a shorter time and try again.',
  compare: 'Beside jobs that went well',
  compareKey: 'COMPARE WITH GOOD JOBS',
  comparing: 'Looking for jobs of the same products …',
  compareAway:
    'The server cannot be reached: other jobs are read from its log. Try again when it is back.',
  noneAlike:
    'No job of the same products went well yet: all its panels passed, no limit was broken and none was sent back.',
  sameColour: 'same color',
  thisJob: 'This job',
  allRows: (n: number) => `SHOW ALL ${n} ROWS`,
  lanesThen: 'Panels',
  noneThen: 'none yet',
  emptied: 'empty',
  until: (time: string, left: string) => `until ${time}, ${left} left`,
  overSince: (time: string) => `over since ${time}`,
  noEnd: 'no end',
  clean: 'clean',
  rinsed: (name: string) => `rinsed, ${name} before`,
  rang: (time: string) => `rang ${time}`,
  answered: (time: string) => `acknowledged ${time}`,
  snoozed: (time: string) => `snoozed ${time}`,
  unanswered: 'not acknowledged',
}

const es: typeof en = {
  dew: 'Margen de rocío',
  dewLimit: (limit) => `al menos ${limit}`,
  under: 'bajo el límite',
  movers: 'ventiladores encendidos',
  knownLater: 'Se supo después',
  toldAt: (time) => `anotado ${time}`,
  takenBackAt: (time) => `anulado ${time}`,
  toldLater: (n) =>
    n === 1
      ? '1 entrada sobre el tiempo anterior llegó después: se dibuja aparte, en su propia fila'
      : `${n} entradas sobre el tiempo anterior llegaron después: se dibujan aparte, en su propia fila`,
  minuteBack: '← 1 MIN',
  minuteOn: '1 MIN →',
  savePicture: { png: 'GUARDAR COMO IMAGEN (PNG)', pdf: 'GUARDAR PARA PAPEL (PDF)' },
  notSaved:
    'Este dispositivo no pudo dibujar la imagen. Muestre un tiempo más corto e intente de nuevo.',
  compare: 'Junto a trabajos que salieron bien',
  compareKey: 'COMPARAR CON TRABAJOS BUENOS',
  comparing: 'Buscando trabajos con los mismos productos …',
  compareAway:
    'No se puede llegar al servidor: los otros trabajos se leen de su registro. Intente de nuevo cuando vuelva.',
  noneAlike:
    'Ningún trabajo con los mismos productos salió bien todavía: paneles aprobados, sin límites rebasados y sin devolver ninguno.',
  sameColour: 'mismo color',
  thisJob: 'Este trabajo',
  allRows: (n) => `MOSTRAR LAS ${n} FILAS`,
  lanesThen: 'Paneles',
  noneThen: 'ninguno todavía',
  emptied: 'vacío',
  until: (time, left) => `hasta ${time}, quedan ${left}`,
  overSince: (time) => `vencido desde ${time}`,
  noEnd: 'sin vencimiento',
  clean: 'limpia',
  rinsed: (name) => `enjuagada, antes ${name}`,
  rang: (time) => `sonó ${time}`,
  answered: (time) => `atendido ${time}`,
  snoozed: (time) => `pospuesto ${time}`,
  unanswered: 'sin atender',
}

export const timelineIn = ({ locale }: Pick<Words, 'locale'>): typeof en =>
  locale === 'es' ? es : en
