import type { en } from './handsfree.ts'

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
