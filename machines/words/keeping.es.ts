import type { BackupTrouble } from '../contract/backup.ts'
import type { Words } from './types.ts'

/** What keeps the log: the server's disk and the backups. */
export const keeping: Pick<Words, 'disk' | 'backup' | 'backupLate'> = {
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
  backup: {
    folderMissing: ({ folder }) =>
      `No está la carpeta ${folder}. Conecte su unidad o elija otra carpeta.`,
    insideData: ({ folder }) =>
      `La carpeta ${folder} está dentro de la del registro mismo. Elija una en otra unidad.`,
    readOnly: ({ folder }) =>
      `No se puede escribir en la carpeta ${folder}. Dele permiso al usuario del servidor o elija otra carpeta.`,
    full: ({ folder }) =>
      `No queda espacio para ${folder}. Libere espacio ahí o elija otra unidad. Los respaldos anteriores se conservan.`,
    damaged: ({ position, why }) =>
      `El registro no está como se grabó, desde la entrada ${position}: ${why}. Los respaldos anteriores se conservan: restaure el más reciente.`,
    busy: () => 'Se está haciendo otro respaldo de este taller. Espere a que termine.',
    stopped: () => 'El respaldo se detuvo antes de terminar. Inícielo otra vez.',
    scheduleLost: () =>
      'El disco no conservó cuándo y dónde se hacen los respaldos. Revise el disco y prográmelos otra vez en Ajustes, Respaldo.',
    failed: ({ reason }) =>
      `Falló el respaldo: ${reason.replace(/\.$/, '')}. Revise la unidad y luego inícielo otra vez.`,
  },
  backupLate: ({ lastMs }, { instant }) =>
    lastMs === null
      ? 'Todavía no hay ningún respaldo de este taller. El motivo está en Ajustes, Respaldo.'
      : `El último respaldo es del ${instant(lastMs)}. El motivo está en Ajustes, Respaldo.`,
}

/** None of its sentences has a figure in it. */
export const backupSaid = ({ code, params }: BackupTrouble): string =>
  (keeping.backup[code] as (params: object) => string)(params)
