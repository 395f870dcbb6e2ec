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

export const es: typeof en = {
  codes: {
    PREPDONE: 'PREPARADO',
    COATSTART: 'EMPEZAR MANO',
    COATEND: 'TERMINAR MANO',
    MATT: 'MATE',
    NOTYET: 'AÚN NO',
    COVERED: 'CUBIERTO',
    ONEMORE: 'UNA MÁS',
    BAKESTART: 'EMPEZAR HORNEO',
    ATTEMP: 'A TEMPERATURA',
    BAKEEND: 'TERMINAR HORNEO',
    PASS: 'APROBAR',
    CUPEMPTY: 'VASO VACÍO',
    PAUSE: 'PAUSA',
    RESUME: 'REANUDAR',
    ACK: 'CONTESTAR TIMBRE',
    UNDO: 'DESHACER',
  },
  problems: {
    checksum: () =>
      'El código no se leyó bien: su suma de control no coincide. No se hizo nada. Léalo otra vez.',
    keyboardLayout: (sign) =>
      `El lector escribe ${sign} donde el código lleva un -: su teclado no es el de este aparato. No se hizo nada. Ponga el mismo en los dos.`,
    unknownVersion: (version) =>
      `Este código es de una versión (${version}) que este aparato no conoce. No se hizo nada. Imprima los códigos de nuevo.`,
    unknownCommand: (name) =>
      `Aquí ninguna orden se llama ${name}. No se hizo nada. Imprima los códigos de nuevo.`,
  },
  nothing: 'No se leyó nada. Léalo otra vez.',
  nobody: (code) => `Ninguna pieza espera ${code}. No se hizo nada.`,
  several: (code) => `Varias esperan ${code}. Lea primero la etiqueta de la pieza.`,
  notNow: (panel, code) =>
    `${panel} no espera ${code}. No se hizo nada. Lea la etiqueta de la pieza que quiere.`,
  whichCup: 'Lea primero el vaso.',
  noBell: 'No suena ningún timbre.',
  bellAnswered: 'Timbre contestado',
  nothingToUndo: 'Aquí no se pulsó nada que se pueda deshacer.',
  undone: 'Deshecho',
  notYetSent: 'guardado, aún sin enviar',
  close: 'Cerrar',
  link: 'Códigos, etiquetas, pedal',
  sheetTitle: 'Códigos que valen por un toque',
  sheetHint:
    'Imprímalos y cuélguelos junto a la cabina. Lea la etiqueta de la pieza y la del vaso, en cualquier orden, para empezar una mano; el código vale para la última pieza leída.',
  tagsTitle: 'Etiquetas de piezas',
  noTags: 'No hay ninguna pieza en curso.',
  print: 'IMPRIMIR',
  pedal: 'Pedal',
  pedalHint: 'Un pedal que escribe una tecla hace lo principal de su pieza.',
  pedalKey: (key) => `Tecla ${key}`,
  pedalNone: 'Aún sin tecla',
  pedalLearn: 'ELEGIR TECLA',
  pedalPress: 'Pise el pedal ahora',
  pedalForget: 'SIN PEDAL',
  pedalRefused: (key) =>
    `La tecla fue ${key}; se acepta una que no escriba ni mueva nada, como F1 a F24.`,
  pedalFor: 'Sirve para',
  pedalLast: 'la última pieza leída',
  pedalNobody: 'El pedal no sabe para qué pieza. Lea primero su etiqueta.',
  pedalNothing: (panel) => `${panel} no espera nada que se haga con un toque.`,
  camera: 'CÁMARA',
  cameraStop: 'PARAR CÁMARA',
  cameraHint: 'Ponga el código cuadrado ante la cámara.',
  cameraInsecure:
    'Esta página no es segura y el navegador no le da la cámara. Abra el quiosco en el ordenador del servidor, o por TLS.',
  cameraNone: 'Este aparato no tiene cámara que el navegador pueda usar.',
  cameraDenied:
    'Al navegador se le dijo que no diera la cámara. Permítala en los ajustes de la página.',
  display: {
    asleep: 'No corre ningún reloj: la pantalla puede apagarse.',
    awake: 'Corre un reloj: la pantalla se mantiene encendida.',
    refused:
      'Este aparato no deja que la página mantenga la pantalla encendida. Póngalo en sus propios ajustes.',
  },
  cameraReader: 'El lector de la cámara no arrancó. Cargue la página otra vez.',
}
