import type { PrintedCommand } from '../../labels/code.ts'

/** Words of printed codes, the pedal and the camera. */

const codes: Record<PrintedCommand, string> = {
  PREPDONE: 'PREP DONE',
  COATSTART: 'COAT START',
  COATEND: 'COAT END',
  MATT: 'MATT',
  NOTYET: 'NOT YET',
  COVERED: 'COVERED',
  ONEMORE: 'ONE MORE',
  BAKESTART: 'BAKE START',
  ATTEMP: 'AT TEMPERATURE',
  BAKEEND: 'BAKE END',
  PASS: 'PASS',
  CUPEMPTY: 'CUP EMPTY',
  PAUSE: 'PAUSE',
  RESUME: 'RESUME',
  ACK: 'BELL OK',
  UNDO: 'UNDO',
}

export const en = {
  codes,
  problems: {
    checksum: (_said: string) =>
      'The code was not read right: its checksum does not match. Nothing was done. Scan it again.',
    keyboardLayout: (sign: string) =>
      `The scanner types ${sign} where the code has a -: its keyboard layout does not match this device's. Nothing was done. Set both to the same layout.`,
    unknownVersion: (version: string) =>
      `This code is of a version (${version}) that this device does not know. Nothing was done. Print the codes anew.`,
    unknownCommand: (name: string) =>
      `No command is called ${name} here. Nothing was done. Print the codes anew.`,
  },
  nothing: 'Nothing was read. Scan it again.',
  nobody: (code: string) => `No panel waits for ${code}. Nothing was done.`,
  several: (code: string) => `Several wait for ${code}. Scan the panel's tag first.`,
  notNow: (panel: string, code: string) =>
    `${panel} does not wait for ${code}. Nothing was done. Scan the tag of the panel you mean.`,
  whichCup: 'Scan the cup first.',
  noBell: 'No bell rings.',
  bellAnswered: 'Bell answered',
  nothingToUndo: 'Nothing was pressed here that can be undone.',
  undone: 'Undone',
  notYetSent: 'kept, not sent yet',
  close: 'Close',
  link: 'Codes, tags, pedal',
  sheetTitle: 'Codes that stand for a touch',
  sheetHint:
    'Print them and hang them by the booth. Scan a panel tag and a cup label, in either order, to start a coat; a code is for the panel scanned last.',
  tagsTitle: 'Panel tags',
  noTags: 'No panel is in work.',
  print: 'PRINT',
  pedal: 'Foot pedal',
  pedalHint: 'A pedal that types a key does the one main thing of its panel.',
  pedalKey: (key: string) => `Key ${key}`,
  pedalNone: 'No key yet',
  pedalLearn: 'SET KEY',
  pedalPress: 'Press the pedal now',
  pedalForget: 'NO PEDAL',
  pedalRefused: (key: string) =>
    `The key was ${key}; accepted is one that writes nothing and moves nothing, such as F1 to F24.`,
  pedalFor: 'It works for',
  pedalLast: 'the panel scanned last',
  pedalNobody: 'The pedal does not know for which panel. Scan its tag first.',
  pedalNothing: (panel: string) => `${panel} waits for nothing that one touch does.`,
  camera: 'CAMERA',
  cameraStop: 'STOP CAMERA',
  cameraHint: 'Hold the square code before the camera.',
  cameraInsecure:
    'This page is not a secure one, so the browser gives it no camera. Open the kiosk on the computer of the server, or over TLS.',
  cameraNone: 'This device has no camera that the browser can use.',
  cameraDenied:
    'The browser was told not to give the camera. Allow it in the settings of the page.',
  display: {
    asleep: 'No timer runs: the display may go dark.',
    awake: 'A timer runs: the display is kept awake.',
    refused:
      'This device does not let the page keep its display awake. Set it so in its own settings.',
  },
  cameraReader: 'The reader of the camera did not start. Load the page again.',
}
