import type { BackupTrouble } from '../contract/backup.ts'
import type { Damage } from '../contract/damage.ts'
import type { Figures, Words } from './types.ts'

const entriesAre = (n: number): string => (n === 1 ? '1 entry is' : `${n} entries are`)

const log: Words['log'] = {
  short: ({ head, knownHead, knownAtMs }, { instant }) =>
    `The server's log ends too early: ${entriesAre(knownHead - head)} missing. It had ${knownHead} on ${instant(knownAtMs)} and has ${head} now.`,
  other: ({ head, knownHead, knownAtMs }, { instant }) =>
    `The server's log is not the one from before: on ${instant(knownAtMs)} it had ${knownHead} other entries. It has ${head} now.`,
}

/** Clauses: they stand behind "Entry 4 is not as it was written:". */
const damage: Words['damage'] = {
  gap: ({ came }) => `it is missing: entry ${came} comes in its place`,
  hash: () => 'the hash is not that of the previous hash and this text',
  notJson: () => 'the text is not a JSON object',
  notCanonical: () => 'the text is not in its RFC 8785 form',
  otherShop: ({ said }) => `the text is of shop ${said}`,
  otherPosition: ({ said }) => `the text says position ${said}`,
  otherColumn: ({ column, has, said }) => `the column ${column} says ${has}, the text ${said}`,
  recordedBefore: () => 'it is recorded before the entry in front of it',
  cut: ({ head }) =>
    `it is missing: there were entries up to ${head} when the last snapshot was kept`,
  rewritten: () => 'its hash is not the one that it had when the last snapshot was kept',
  lacks: ({ loss: { kind, ...known } }, figures) => log[kind](known, figures),
  file: ({ said }) => `the file is damaged: ${said}`,
  unreadable: ({ said }) => `the file cannot be read: ${said}`,
  photoName: ({ said }) => `it names no picture: ${said}`,
  photoMissing: ({ file }) => `its picture is missing: ${file}`,
  photoBytes: ({ file, hash }) => `the bytes of its picture ${file} hash to ${hash}`,
  photoUnreadable: ({ file, said }) => `its picture ${file} cannot be read: ${said}`,
}
const damaged = ({ code, params }: Damage, figures: Figures): string =>
  (damage[code] as (params: object, figures: Figures) => string)(params, figures)

const REPORT = 'This is a fault of the program: report it, with the last lines it printed.'
const RESTORE = 'Stop the server and restore the newest backup.'

const store: Words['store'] = {
  full: 'The disk is full. Free some space on it.',
  readOnly:
    "The log may only be read. Let the server's user write to its file and folder, then start the server again.",
  busy: 'Another program is writing to the log. Close it: one server at a time may use a log.',
  damaged: `The log file is damaged. ${RESTORE}`,
  foreign: `The file is not a log of this program. ${RESTORE}`,
  newer: 'A newer program wrote the log. Install that one.',
  unreachable:
    "The log file cannot be opened. Check that its folder exists and that the server's user may write there.",
  gone: 'The log was deleted, moved or replaced while the server ran. Put it back and start the server again, or restore the newest backup.',
  io: 'The disk reported an error. Check its space and its health, then start the server again.',
  closed: 'The log is closed. Start the server again.',
  program: `The log failed. ${REPORT}`,
  notUnderstood:
    'The rules can make nothing of what the log says of this. Run verify on the server. Where it says that the log is ok, report this as a fault of the program; else restore the newest backup.',
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
  start: {
    folderInUse: ({ folder }) =>
      `Another server is using ${folder}. Stop it first, or choose another folder with --data.`,
    folderReadOnly: ({ folder, errno }) =>
      `The folder ${folder} cannot be written to (${errno || 'no reason given'}). Choose another with --data.`,
    folderForeign: ({ folder }) =>
      `${folder} holds something other than a practice shop; nothing was touched. Name an empty folder with --data.`,
    shopLost: ({ folder, log: file, left, at }) =>
      `The folder ${folder} holds ${left === 'mark' ? "the mark of a shop's log" : 'the pictures of a shop'} (${at}), but its log is missing or empty. Restore the newest backup as ${file}. To begin a new shop, choose an empty folder with --data.`,
    portTaken: ({ host, port, setting }) =>
      `Port ${port} of ${host} is taken. Stop what uses it, or choose another with ${setting}.`,
    portRefused: ({ host, port, errno, setting }) =>
      `Port ${port} of ${host} cannot be opened (${errno || 'no reason given'}): choose another with ${setting}.`,
  },
  photoLost: (photo, folder) =>
    `Copy photos/${photo} from a backup into ${folder}. If no backup has it, take the picture again and void this entry.`,
  backup: {
    folderMissing: ({ folder }) =>
      `The folder ${folder} is not there. Connect its drive, or choose another folder.`,
    insideData: ({ folder }) =>
      `The folder ${folder} lies in the folder of the log itself. Choose one on another drive.`,
    readOnly: ({ folder }) =>
      `The folder ${folder} cannot be written to. Let the server's user write there, or choose another folder.`,
    full: ({ folder }) =>
      `There is no space left for ${folder}. Free some space there, or choose another drive. The backups before are kept.`,
    damaged: ({ position, damage: found }, figures) =>
      `The log is not as it was recorded, from entry ${position} on: ${damaged(found, figures)}. The backups before are kept: restore the newest of them.`,
    busy: () => 'Another backup of this shop is being made. Wait until it is done.',
    stopped: () => 'The backup was stopped before it was done. Start it again.',
    scheduleLost: () =>
      'The disk did not keep when and where backups are made. Check the disk, and set them again in Setup, Backup.',
    empty: () => 'The log has no entry yet. Make a backup once something is recorded.',
    log: ({ fault }) => `The backup failed. ${store[fault]}`,
    failed: ({ reason }) =>
      `The backup failed: ${reason.replace(/\.$/, '')}. Check the drive, then start it again.`,
  },
  backupLate: ({ lastMs }, { instant }) =>
    lastMs === null
      ? 'No backup of this shop has been made yet. Setup, Backup says why.'
      : `The last backup is from ${instant(lastMs)}. Setup, Backup says why there is none since.`,
}

export const backupSaid = ({ code, params }: BackupTrouble, figures: Figures): string =>
  (keeping.backup[code] as (params: object, figures: Figures) => string)(params, figures)
