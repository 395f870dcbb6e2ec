import type { PrintedCommand } from '../../labels/code.ts'
import { codes } from '../../machines/words/codes.en.ts'

/** Words of printed codes, the pedal and the camera. */

export const en = {
  codes: codes satisfies Record<PrintedCommand, string>,
  problems: {
    checksum: (_said: string) =>
      'Misread: the checksum does not match. Nothing was done. Scan it again.',
    keyboardLayout: (sign: string) =>
      `The scanner types ${sign} where the code has a -: its keyboard layout does not match this device's. Nothing was done. Set both to the same layout.`,
    unknownVersion: (version: string) =>
      `This device does not know codes of version ${version}. Nothing was done. Print the codes again.`,
    unknownCommand: (name: string) =>
      `There is no command ${name}. Nothing was done. Print the codes again.`,
  },
  nothing: 'Nothing was read. Scan it again.',
  nobody: (code: string) => `No panel is ready for ${code}. Nothing was done.`,
  several: (code: string) => `Several panels are ready for ${code}. Scan the panel's tag first.`,
  notNow: (panel: string, code: string) =>
    `${panel} is not ready for ${code}. Nothing was done. Scan the tag of the panel you mean.`,
  whichCup: 'Scan the cup first.',
  noBell: 'No bell rings.',
  bellAnswered: 'Bell acknowledged',
  nothingToUndo: 'Nothing to undo here.',
  undone: 'Undone',
  notYetSent: 'saved, not sent yet',
  close: 'Close',
  link: 'Codes, tags, pedal',
  sheetTitle: 'Codes to scan instead of touching',
  sheetHint:
    'Print them and hang them by the booth. To start a coat, scan a panel tag and a cup label in either order. A code applies to the panel scanned last.',
  tagsTitle: 'Panel tags',
  noTags: 'No panel in progress.',
  print: 'PRINT',
  pedal: 'Foot pedal',
  pedalHint: 'A pedal that types a key does the panel’s next step.',
  pedalKey: (key: string) => `Key ${key}`,
  pedalNone: 'No key yet',
  pedalLearn: 'SET KEY',
  pedalPress: 'Press the pedal now',
  pedalForget: 'NO PEDAL',
  pedalRefused: (key: string) =>
    `“${key}” won’t work. Use a key that types nothing and moves nothing, such as F1 to F24.`,
  pedalFor: 'The pedal works for',
  pedalLast: 'the panel scanned last',
  pedalNobody: 'No panel for the pedal yet. Scan a panel tag first.',
  pedalNothing: (panel: string) => `${panel} has no step that one press can do.`,
  camera: 'CAMERA',
  cameraStop: 'STOP CAMERA',
  cameraHint: 'Hold the square code in front of the camera.',
  cameraInsecure:
    'This page is not secure, so the browser gives it no camera. Open the kiosk on the server’s own computer, or over TLS.',
  cameraNone: 'This device has no camera that the browser can use.',
  cameraDenied: 'The browser blocks the camera. Allow it in the settings of this page.',
  display: {
    asleep: 'No timer is running: the display may go dark.',
    awake: 'A timer is running: the display stays on.',
    refused:
      'This device does not let the page keep its display on. Change that in its own settings.',
  },
  cameraReader: 'The camera’s code reader did not start. Reload the page.',
}
