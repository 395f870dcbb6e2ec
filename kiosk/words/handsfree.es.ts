import { codes } from '../../machines/words/codes.es.ts'
import type { en } from './handsfree.ts'

export const es: typeof en = {
  codes,
  problems: {
    checksum: () =>
      'Mal leído: el dígito verificador no coincide. No se hizo nada. Escanee otra vez.',
    keyboardLayout: (sign) =>
      `El escáner escribe ${sign} donde el código lleva un -: su teclado no es el de este dispositivo. No se hizo nada. Ponga el mismo en los dos.`,
    unknownVersion: (version) =>
      `Este dispositivo no conoce códigos de la versión ${version}. No se hizo nada. Imprima los códigos otra vez.`,
    unknownCommand: (name) =>
      `No existe la orden ${name}. No se hizo nada. Imprima los códigos otra vez.`,
  },
  nothing: 'No se leyó nada. Escanee otra vez.',
  nobody: (code) => `Ningún panel está listo para ${code}. No se hizo nada.`,
  several: (code) =>
    `Varios paneles están listos para ${code}. Escanee primero la etiqueta del panel.`,
  notNow: (panel, code) =>
    `${panel} no está listo para ${code}. No se hizo nada. Escanee la etiqueta del panel correcto.`,
  whichCup: 'Escanee primero el vaso.',
  noBell: 'No suena ningún timbre.',
  bellAnswered: 'Timbre atendido',
  nothingToUndo: 'Nada que deshacer aquí.',
  undone: 'Deshecho',
  notYetSent: 'guardado, aún sin enviar',
  close: 'Cerrar',
  link: 'Códigos, etiquetas, pedal',
  sheetTitle: 'Códigos para escanear en vez de tocar',
  sheetHint:
    'Imprímalos y cuélguelos junto a la cabina. Para empezar una mano, escanee la etiqueta del panel y la del vaso en cualquier orden. Un código vale para el último panel escaneado.',
  tagsTitle: 'Etiquetas de paneles',
  noTags: 'Ningún panel en proceso.',
  print: 'IMPRIMIR',
  pedal: 'Pedal',
  pedalHint: 'Un pedal que escribe una tecla hace el siguiente paso del panel.',
  pedalKey: (key) => `Tecla ${key}`,
  pedalNone: 'Aún sin tecla',
  pedalLearn: 'ELEGIR TECLA',
  pedalPress: 'Pise el pedal ahora',
  pedalForget: 'SIN PEDAL',
  pedalRefused: (key) =>
    `«${key}» no sirve. Use una tecla que no escriba ni mueva nada, como F1 a F24.`,
  pedalFor: 'El pedal sirve para',
  pedalLast: 'el último panel escaneado',
  pedalNobody: 'El pedal aún no tiene panel. Escanee primero la etiqueta de un panel.',
  pedalNothing: (panel) => `${panel} no tiene ningún paso que se haga con una pisada.`,
  camera: 'CÁMARA',
  cameraStop: 'PARAR CÁMARA',
  cameraHint: 'Ponga el código cuadrado frente a la cámara.',
  cameraInsecure:
    'Esta página no es segura y el navegador no le da la cámara. Abra la terminal en la computadora del servidor, o por TLS.',
  cameraNone: 'Este dispositivo no tiene cámara que el navegador pueda usar.',
  cameraDenied: 'El navegador bloquea la cámara. Permítala en los ajustes de esta página.',
  display: {
    asleep: 'No corre ningún reloj: la pantalla puede apagarse.',
    awake: 'Corre un reloj: la pantalla se mantiene encendida.',
    refused:
      'Este dispositivo no deja que la página mantenga la pantalla encendida. Cámbielo en sus propios ajustes.',
  },
  cameraReader: 'El lector de códigos de la cámara no arrancó. Recargue la página.',
}
