import type { en } from './day.ts'

export const es: typeof en = {
  title: 'Cerrar el día',
  opens: (time) => `El taller abre otra vez ${time}.`,
  noHours: 'Sin horario (Ajustes): se muestran las ventanas de las próximas 24 h.',
  nothing: 'No queda nada abierto. Buenas noches.',
  cups: 'Vasos con producto',
  cupWhy: 'Nunca tape el sobrante catalizado. Siga la ficha y las normas locales de residuos.',
  discard: 'MANTENGA: DESECHADO',
  used: 'GASTADO',
  guns: 'Pistolas con producto',
  cleaned: 'LIMPIA',
  windows: 'Ventanas que se cierran antes',
  shuts: (time) => `se cierra ${time}`,
  shut: (time) => `se cerró ${time}`,
  see: 'Ver el panel',
  running: 'Todavía en marcha',
  coat: 'una mano sin terminar',
  cure: 'curando',
  finished: 'TERMINAR',
  ends: (time) => `vence ${time}`,
  ended: (time) => `venció ${time}`,
}
