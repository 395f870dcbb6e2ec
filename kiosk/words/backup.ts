/** Words of Setup's page on backups, in both languages: they are fetched with it. */
export const en = {
  title: 'Backup',
  reading: 'Asking the server …',
  away: 'The server does not answer. Backups are set up when it is back.',
  none: 'This server makes no backups. A practice shop has nothing to keep.',
  notSet: 'No backups are set. If this computer’s disk fails, everything recorded is gone.',
  how: 'Choose a folder on another drive: a USB stick, or a drive on the network. A backup holds the log and every photo, and is checked after it is written.',
  fields: {
    folder: 'Folder on the server’s computer',
    hour: 'Every day at (hour)',
    days: 'Keep all of the last … days',
    weeks: 'Then one a week, … weeks',
    months: 'Then one a month, … months',
  },
  save: 'SAVE',
  saved: 'Saved.',
  off: 'STOP BACKUPS',
  offSure: 'STOP BACKUPS: SURE?',
  now: 'BACK UP NOW',
  last: (when: string, entries: string) => `Last backup: ${when}, ${entries} entries.`,
  lastNone: 'No backup has been made yet.',
  missing: (n: number) =>
    n === 1
      ? '1 photo is missing on the server and in the backups. Run verify on the server’s computer.'
      : `${n} photos are missing on the server and in the backups. Run verify on the server’s computer.`,
  failed: (when: string) => `The backup of ${when} failed.`,
  again: 'It is tried again by itself.',
  next: (when: string) => `Next: ${when}.`,
  path: (path: string) => `It is in ${path}`,
  sameDisk: 'This folder is on the disk of the log itself. If that disk fails, both are gone.',
  restore: 'To put a backup back, stop the server and run: flashbell restore FOLDER',
  steps: {
    copy: 'Backing up: copying the log …',
    check: 'Backing up: checking the copy',
    photos: 'Backing up: photos',
  },
  of: (done: string, all: string) => `${done} of ${all}`,
}

export const es: typeof en = {
  title: 'Respaldo',
  reading: 'Preguntando al servidor …',
  away: 'El servidor no contesta. Los respaldos se ajustan cuando vuelva.',
  none: 'Este servidor no hace respaldos. Un taller de práctica no tiene nada que guardar.',
  notSet:
    'No hay respaldos programados. Si falla el disco de esa computadora, se pierde todo lo grabado.',
  how: 'Elija una carpeta en otra unidad: una memoria USB o una unidad de red. Un respaldo tiene el registro y todas las fotos, y se revisa después de escribirlo.',
  fields: {
    folder: 'Carpeta en la computadora del servidor',
    hour: 'Cada día a las (hora)',
    days: 'Conservar todos los de … días',
    weeks: 'Después uno por semana, … semanas',
    months: 'Después uno por mes, … meses',
  },
  save: 'GUARDAR',
  saved: 'Guardado.',
  off: 'QUITAR RESPALDOS',
  offSure: '¿SEGURO? QUITAR RESPALDOS',
  now: 'RESPALDAR AHORA',
  last: (when, entries) => `Último respaldo: ${when}, ${entries} entradas.`,
  lastNone: 'Todavía no hay ningún respaldo.',
  missing: (n) =>
    n === 1
      ? 'Falta 1 foto en el servidor y en los respaldos. Ejecute verify en la computadora del servidor.'
      : `Faltan ${n} fotos en el servidor y en los respaldos. Ejecute verify en la computadora del servidor.`,
  failed: (when) => `Falló el respaldo del ${when}.`,
  again: 'Se volverá a intentar.',
  next: (when) => `Siguiente: ${when}.`,
  path: (path) => `Está en ${path}`,
  sameDisk:
    'Esta carpeta está en el mismo disco que el registro. Si ese disco falla, se pierden los dos.',
  restore: 'Para devolver un respaldo, detenga el servidor y ejecute: flashbell restore CARPETA',
  steps: {
    copy: 'Respaldando: copiando el registro …',
    check: 'Respaldando: revisando la copia',
    photos: 'Respaldando: fotos',
  },
  of: (done, all) => `${done} de ${all}`,
}
