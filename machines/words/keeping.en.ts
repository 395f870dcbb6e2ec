import type { BackupTrouble } from '../contract/backup.ts'
import type { Words } from './types.ts'

/** What keeps the log: the server's disk and the backups. */
export const keeping: Pick<Words, 'disk' | 'backup' | 'backupLate'> = {
  disk: {
    gone: () =>
      "The server's log was deleted or moved: nothing is recorded. Put it back and start the server again, or restore the newest backup.",
    readOnly: () =>
      'The server may not write to its log: nothing is recorded. Let it write to that file and folder.',
    full: () => "The server's disk is full: nothing is recorded. Free some space on it.",
    low: ({ freeMb }) => `The server's disk has ${freeMb} MB left. Free some space on it.`,
    failing: () =>
      "The server's disk reports errors: nothing is recorded. Check the disk, then start the server again.",
    // 0: the file cannot be read as a whole, and no entry can be named.
    damaged: ({ position }) =>
      `The server's log is damaged${position === 0 ? '' : ` at entry ${position}`}. Check the disk, stop the server and restore the newest backup.`,
  },
  backup: {
    folderMissing: ({ folder }) =>
      `The folder ${folder} is not there. Connect its drive, or choose another folder.`,
    insideData: ({ folder }) =>
      `The folder ${folder} lies in the folder of the log itself. Choose one on another drive.`,
    readOnly: ({ folder }) =>
      `The folder ${folder} cannot be written to. Let the server's user write there, or choose another folder.`,
    full: ({ folder }) =>
      `There is no space left for ${folder}. Free some space there, or choose another drive. The backups before are kept.`,
    damaged: ({ position, why }) =>
      `The log is not as it was recorded, from entry ${position} on: ${why}. The backups before are kept: restore the newest of them.`,
    busy: () => 'Another backup of this shop is being made. Wait until it is done.',
    stopped: () => 'The backup was stopped before it was done. Start it again.',
    scheduleLost: () =>
      'The disk did not keep when and where backups are made. Check the disk, and set them again in Setup, Backup.',
    failed: ({ reason }) =>
      `The backup failed: ${reason.replace(/\.$/, '')}. Check the drive, then start it again.`,
  },
  backupLate: ({ lastMs }, { instant }) =>
    lastMs === null
      ? 'No backup of this shop has been made yet. Setup, Backup says why.'
      : `The last backup is from ${instant(lastMs)}. Setup, Backup says why there is none since.`,
}

/** None of its sentences has a figure in it. */
export const backupSaid = ({ code, params }: BackupTrouble): string =>
  (keeping.backup[code] as (params: object) => string)(params)
