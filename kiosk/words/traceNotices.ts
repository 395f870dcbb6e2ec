import type { Notice } from '../../machines/trace/notices.ts'

/** What has to be known of a job's record before it is read, in both languages: fetched with Trace. */

type Of<K extends Notice['is']> = Extract<Notice, { is: K }>
/** How lengths and times are written. */
export type NoticeSay = {
  readonly length: (ms: number) => string
  readonly time: (ms: number) => string
}
export type NoticeWords = {
  readonly [K in Notice['is']]: (notice: Of<K>, say: NoticeSay) => string
}

const many = (n: number, one: string, more: string) => (n === 1 ? one : more)

export const en: NoticeWords = {
  noAir: () =>
    'No air was read while this job was sprayed: temperature, humidity and dew point are not recorded, and nothing is said about them.',
  someAir: ({ coats, of }) =>
    `${coats} of ${of} coats ${many(coats, 'has', 'have')} no reading of the air in which ${many(coats, 'it was', 'they were')} sprayed: nothing is said about that air.`,
  clockSet: ({ at, byMs }, { time, length }) =>
    `The server’s clock was set ${byMs < 0 ? 'back' : 'forward'} by ${length(Math.abs(byMs))} at ${time(at)}: waits about then may be off by that much.`,
  clockOff: ({ entries, mostMs }, { length }) =>
    `${many(entries, '1 entry was', `${entries} entries were`)} pressed on a screen whose clock was off by up to ${length(mostMs)}. The times were put right by the server’s clock.`,
  toldLate: ({ entries, mostMs }, { length }) =>
    `${many(entries, '1 entry was', `${entries} entries were`)} told late, up to ${length(mostMs)} after it happened. Choose a moment below to see what was known then.`,
  takenBack: ({ entries }) =>
    `${many(entries, '1 entry was', `${entries} entries were`)} taken back as a mistake. What is drawn is the job without ${many(entries, 'it', 'them')}; the row “Taken back” keeps ${many(entries, 'it', 'them')}.`,
  estimated: ({ coats }) =>
    `Nobody said when ${many(coats, '1 coat', `${coats} coats`)} began: ${many(coats, 'its start is', 'their starts are')} estimated, drawn dashed, and no proof.`,
  neverCleared: ({ panels }) =>
    `Color and no clear is recorded on: ${panels.join(', ')}. A defect of the clear cannot be traced there.`,
}

export const es: NoticeWords = {
  noAir: () =>
    'No se leyó el aire mientras se pintaba este trabajo: temperatura, humedad y punto de rocío no están registrados, y nada se dice de ellos.',
  someAir: ({ coats, of }) =>
    `${coats} de ${of} manos no ${many(coats, 'tiene', 'tienen')} lectura del aire en que se ${many(coats, 'aplicó', 'aplicaron')}: nada se dice de ese aire.`,
  clockSet: ({ at, byMs }, { time, length }) =>
    `El reloj del servidor se ${byMs < 0 ? 'atrasó' : 'adelantó'} ${length(Math.abs(byMs))} a las ${time(at)}: las esperas de esa hora pueden estar mal por ese tiempo.`,
  clockOff: ({ entries, mostMs }, { length }) =>
    `${many(entries, '1 entrada se hizo', `${entries} entradas se hicieron`)} en una pantalla con el reloj mal, hasta por ${length(mostMs)}. Las horas se corrigieron con el reloj del servidor.`,
  toldLate: ({ entries, mostMs }, { length }) =>
    `${many(entries, '1 entrada se anotó', `${entries} entradas se anotaron`)} tarde, hasta ${length(mostMs)} después. Elija un momento abajo para ver qué se sabía entonces.`,
  takenBack: ({ entries }) =>
    `${many(entries, '1 entrada se anuló', `${entries} entradas se anularon`)} por error. Se dibuja el trabajo sin ${many(entries, 'ella', 'ellas')}; la fila “Anulado” ${many(entries, 'lo', 'los')} conserva.`,
  estimated: ({ coats }) =>
    `Nadie dijo cuándo ${many(coats, 'empezó 1 mano', `empezaron ${coats} manos`)}: el inicio es estimado, va con línea cortada y no prueba nada.`,
  neverCleared: ({ panels }) =>
    `Hay color y no hay transparente registrado en: ${panels.join(', ')}. Allí no se puede rastrear un defecto del transparente.`,
}

/** One of them as a sentence. */
export const noticeText = (notice: Notice, words: NoticeWords, say: NoticeSay): string =>
  (words[notice.is] as (notice: Notice, say: NoticeSay) => string)(notice, say)
