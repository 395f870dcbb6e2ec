import type { LabelProblemCode } from '../contract/labelProblem.ts'

/** What is wrong with a label that was read. */
export const labels: Readonly<Record<LabelProblemCode, (...names: readonly string[]) => string>> = {
  empty: () => 'No se leyó nada. Escanee otra vez o escriba el identificador.',
  notOurs: () =>
    'No es una etiqueta nuestra. Escanee el código cuadrado de un vaso o panel, o escriba su identificador.',
  notInAlphabet: (sign, alphabet) =>
    `Ningún identificador lleva ${sign}: se escriben con ${alphabet}. Mire otra vez.`,
  keyboardLayout: (sign, separator) =>
    `El escáner escribe ${sign} donde la etiqueta tiene ${separator}: su teclado no es el de este dispositivo. Ponga los dos iguales y escanee otra vez.`,
  unknownSchema: (schema, reads) =>
    `Este dispositivo no conoce la versión ${schema} de esta etiqueta. Dice: ${reads}. Actualice el dispositivo; mientras tanto vale lo impreso.`,
  checksum: () =>
    'La etiqueta no se leyó bien: su dígito verificador no coincide. Escanee otra vez o escriba el identificador impreso.',
  garbled: () => 'A esta etiqueta le faltan datos o no son válidos. Imprima otra.',
  otherShop: (theirs, ours) =>
    `Esta etiqueta es de otro taller (${theirs}; el nuestro es ${ours}). Se muestra lo que dice; aquí no se sabe nada más de ella.`,
  mixedInFuture: (minutes) =>
    `Esta etiqueta dice que se mezclará dentro de ${minutes} min. Revise el reloj de este dispositivo y del que la imprimió.`,
  tooOld: (days, most) =>
    `Esta etiqueta dice que se mezcló hace ${days} días; con más de ${most} días no es confiable. No aplique la mezcla.`,
}

/** What is looked for and not there. */
export const WHAT = {
  job: 'el trabajo',
  panel: 'el panel',
  cup: 'el vaso',
  lot: 'el lote',
  label: 'la etiqueta del vaso',
  person: 'la persona',
  gun: 'la pistola',
  sheet: 'el producto',
  photo: 'la foto',
} as const
