import type * as en from './notices.ts'

export const notKnown: typeof en.notKnown = {
  cup: (id) => `No se conoce el vaso ${id}.`,
  panel: (id) => `No se conoce el panel ${id}.`,
  job: (id) => `No se conoce el trabajo ${id}.`,
  waits: (n) => (n === 1 ? '1 entrada lo espera.' : `${n} entradas lo esperan.`),
  mix: 'MEZCLAR',
  voidHold: 'MANTENER PARA ANULAR LO QUE ESPERA',
}

export const server: typeof en.server = {
  backup: 'Respaldo',
  clockTitle: 'Reloj sin confirmar',
  counts: (time) => `El taller sigue contando desde las ${time}.`,
  shows: (time) => `Esa computadora marca ${time}.`,
  itIs: (time) => `SON LAS ${time}`,
  other: 'OTRA HORA',
  type: 'Fecha y hora de ahora',
  confirm: 'CONFIRMAR',
  steps: 'Saltos del reloj',
  stepJumped: (at, from, to) => `${at}: pasó de ${from} a ${to}`,
  stepConfirmed: (at, to) => `${at}: confirmado como ${to}`,
  gone: (n, from, to) =>
    `Al registro del servidor le ${n === 1 ? 'falta 1 entrada' : `faltan ${n} entradas`} que esta terminal conoce, de ${from} a ${to}.`,
  save: 'GUARDARLAS',
  dismiss: 'DESCARTAR AVISO',
  dismissUnsaved: 'DESCARTAR SIN GUARDAR',
  replaced: (head) =>
    `El registro del servidor se restauró o se reemplazó: ahora tiene ${head === 1 ? '1 entrada' : `${head} entradas`}.`,
  restore:
    'Los relojes y el aviso de la máscara no saben qué se pintó desde entonces: siga con la máscara hasta que la zona esté despejada. Restaure el respaldo más reciente, o siga con lo que hay.',
}
