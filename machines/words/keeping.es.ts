import type { BackupTrouble } from '../contract/backup.ts'
import type { Damage } from '../contract/damage.ts'
import type { Figures, Words } from './types.ts'

const missing = (n: number): string => (n === 1 ? 'falta 1 entrada' : `faltan ${n} entradas`)

const log: Words['log'] = {
  short: ({ head, knownHead, knownAtMs }, { instant }) =>
    `El registro del servidor termina antes de tiempo: ${missing(knownHead - head)}. Tenía ${knownHead} el ${instant(knownAtMs)} y ahora tiene ${head}.`,
  other: ({ head, knownHead, knownAtMs }, { instant }) =>
    `El registro del servidor no es el de antes: el ${instant(knownAtMs)} tenía otras ${knownHead} entradas. Ahora tiene ${head}.`,
}

/** Oraciones sin punto: van tras "La entrada 4 no está como se grabó:". */
const damage: Words['damage'] = {
  gap: ({ came }) => `falta: en su lugar está la entrada ${came}`,
  hash: () => 'su hash no es el del anterior y este texto',
  notJson: () => 'el texto no es un objeto JSON',
  notCanonical: () => 'el texto no está en su forma RFC 8785',
  otherShop: ({ said }) => `el texto es del taller ${said}`,
  otherPosition: ({ said }) => `el texto dice posición ${said}`,
  otherColumn: ({ column, has, said }) => `la columna ${column} dice ${has}, el texto ${said}`,
  recordedBefore: () => 'se grabó antes que la entrada anterior',
  cut: ({ head }) => `falta: había entradas hasta la ${head} en la última instantánea`,
  rewritten: () => 'su hash no es el que tenía en la última instantánea',
  lacks: ({ loss: { kind, ...known } }, figures) => log[kind](known, figures),
  file: ({ said }) => `el archivo está dañado: ${said}`,
  unreadable: ({ said }) => `el archivo no se puede leer: ${said}`,
  photoName: ({ said }) => `no nombra ninguna foto: ${said}`,
  photoMissing: ({ file }) => `falta su foto: ${file}`,
  photoBytes: ({ file, hash }) => `los bytes de su foto ${file} dan el hash ${hash}`,
  photoUnreadable: ({ file, said }) => `su foto ${file} no se puede leer: ${said}`,
}
const damaged = ({ code, params }: Damage, figures: Figures): string =>
  (damage[code] as (params: object, figures: Figures) => string)(params, figures)

const RESTORE = 'Detenga el servidor y restaure el respaldo más reciente.'

const store: Words['store'] = {
  full: 'El disco está lleno. Libere espacio.',
  readOnly:
    'El registro solo se puede leer. Dele al usuario del servidor permiso de escritura en su archivo y carpeta, y luego inicie otra vez el servidor.',
  busy: 'Otro programa está escribiendo en el registro. Ciérrelo: un registro es de un solo servidor a la vez.',
  damaged: `El archivo del registro está dañado. ${RESTORE}`,
  foreign: `El archivo no es un registro de este programa. ${RESTORE}`,
  newer: 'El registro lo escribió un programa más nuevo. Instale ese.',
  unreachable:
    'El archivo del registro no se puede abrir. Revise que su carpeta exista y que el usuario del servidor pueda escribir ahí.',
  gone: 'El registro se borró, se movió o se cambió mientras el servidor corría. Devuélvalo a su sitio e inicie otra vez el servidor, o restaure el respaldo más reciente.',
  io: 'El disco dio un error. Revise su espacio y su estado, y luego inicie otra vez el servidor.',
  closed: 'El registro está cerrado. Inicie otra vez el servidor.',
  notUnderstood:
    'Las reglas no entienden lo que el registro dice de esto. Ejecute verify en el servidor. Si dice que el registro está bien, avise: es un error del programa; si no, restaure el respaldo más reciente.',
  program:
    'Falló el registro. Es un error del programa: avise, con las últimas líneas que imprimió.',
}

/** What keeps the log: the server's disk, its store and the backups. */
export const keeping: Pick<
  Words,
  'backup' | 'backupLate' | 'damage' | 'disk' | 'log' | 'photoLost' | 'start' | 'store'
> = {
  log,
  damage,
  store,
  disk: {
    gone: () =>
      'El registro del servidor se borró o se movió: no se guarda nada. Devuélvalo a su sitio e inicie otra vez el servidor, o restaure el respaldo más reciente.',
    readOnly: () =>
      'El servidor no puede escribir en su registro: no se guarda nada. Dele permiso de escritura en ese archivo y carpeta.',
    full: () => 'El disco del servidor está lleno: no se guarda nada. Libere espacio.',
    low: ({ freeMb }) => `Al disco del servidor le quedan ${freeMb} MB. Libere espacio.`,
    failing: () =>
      'El disco del servidor da errores: no se guarda nada. Revise el disco y luego inicie otra vez el servidor.',
    // 0: the file cannot be read as a whole, and no entry can be named.
    damaged: ({ position }) =>
      `El registro del servidor está dañado${position === 0 ? '' : ` en la entrada ${position}`}. Revise el disco, detenga el servidor y restaure el respaldo más reciente.`,
  },
  start: {
    folderInUse: ({ folder }) =>
      `Otro servidor está usando ${folder}. Deténgalo primero o elija otra carpeta con --data.`,
    folderReadOnly: ({ folder, errno }) =>
      `No se puede escribir en la carpeta ${folder} (${errno || 'sin motivo'}). Elija otra con --data.`,
    folderForeign: ({ folder }) =>
      `${folder} contiene algo que no es un taller de práctica; no se tocó nada. Nombre una carpeta vacía con --data.`,
    shopLost: ({ folder, log: file, left, at }) =>
      `La carpeta ${folder} contiene ${left === 'mark' ? 'la marca del registro de un taller' : 'las fotos de un taller'} (${at}), pero su registro falta o está vacío. Restaure el respaldo más reciente como ${file}. Para empezar un taller nuevo, elija una carpeta vacía con --data.`,
    portTaken: ({ host, port, setting }) =>
      `El puerto ${port} de ${host} está ocupado. Detenga lo que lo usa o elija otro con ${setting}.`,
    portRefused: ({ host, port, errno, setting }) =>
      `No se puede abrir el puerto ${port} de ${host} (${errno || 'sin motivo'}): elija otro con ${setting}.`,
  },
  photoLost: (photo, folder) =>
    `Copie photos/${photo} de un respaldo a ${folder}. Si ningún respaldo la tiene, tome otra vez la foto y anule esta entrada.`,
  backup: {
    folderMissing: ({ folder }) =>
      `No está la carpeta ${folder}. Conecte su unidad o elija otra carpeta.`,
    insideData: ({ folder }) =>
      `La carpeta ${folder} está dentro de la del registro mismo. Elija una en otra unidad.`,
    readOnly: ({ folder }) =>
      `No se puede escribir en la carpeta ${folder}. Dele permiso al usuario del servidor o elija otra carpeta.`,
    full: ({ folder }) =>
      `No queda espacio para ${folder}. Libere espacio ahí o elija otra unidad. Los respaldos anteriores se conservan.`,
    damaged: ({ position, damage: found }, figures) =>
      `El registro no está como se grabó, desde la entrada ${position}: ${damaged(found, figures)}. Los respaldos anteriores se conservan: restaure el más reciente.`,
    busy: () => 'Se está haciendo otro respaldo de este taller. Espere a que termine.',
    stopped: () => 'El respaldo se detuvo antes de terminar. Inícielo otra vez.',
    scheduleLost: () =>
      'El disco no conservó cuándo y dónde se hacen los respaldos. Revise el disco y prográmelos otra vez en Ajustes, Respaldo.',
    empty: () => 'El registro aún no tiene entradas. Haga un respaldo cuando haya algo guardado.',
    log: ({ fault }) => `Falló el respaldo. ${store[fault]}`,
    failed: ({ reason }) =>
      `Falló el respaldo: ${reason.replace(/\.$/, '')}. Revise la unidad y luego inícielo otra vez.`,
  },
  backupLate: ({ lastMs }, { instant }) =>
    lastMs === null
      ? 'Todavía no hay ningún respaldo de este taller. El motivo está en Ajustes, Respaldo.'
      : `El último respaldo es del ${instant(lastMs)}. El motivo está en Ajustes, Respaldo.`,
}

export const backupSaid = ({ code, params }: BackupTrouble, figures: Figures): string =>
  (keeping.backup[code] as (params: object, figures: Figures) => string)(params, figures)
