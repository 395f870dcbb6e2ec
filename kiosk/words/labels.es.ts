import type { ProblemCode } from '../../labels/code.ts'
import type { en } from './labels.ts'

const PROBLEMS: Record<ProblemCode, (...names: readonly string[]) => string> = {
  empty: () => 'No se leyó nada. Léala otra vez o escriba el identificador.',
  notOurs: () =>
    'No es una etiqueta nuestra. Lea el código cuadrado de un vaso o panel, o escriba su identificador.',
  notInAlphabet: (sign, alphabet) =>
    `Ningún identificador lleva ${sign}: se escriben con ${alphabet}. Mire otra vez.`,
  keyboardLayout: (sign, separator) =>
    `El lector escribe ${sign} donde la etiqueta tiene ${separator}: su teclado no es el de este aparato. Ponga los dos igual y lea otra vez.`,
  unknownSchema: (schema, reads) =>
    `Esta etiqueta es de una versión (${schema}) que este aparato no conoce. Dice: ${reads}. Actualice el aparato; hasta entonces vale lo impreso.`,
  checksum: () =>
    'La etiqueta no se leyó bien: su cifra de control no cuadra. Léala otra vez, o escriba el identificador que lleva impreso.',
  garbled: () => 'Esta etiqueta no dice lo que una etiqueta debe decir. Imprima otra.',
  otherShop: (theirs, ours) =>
    `Esta etiqueta es de otro taller (${theirs}; el nuestro es ${ours}). Se muestra como se lee; aquí no se sabe nada de ella.`,
  mixedInFuture: (minutes) =>
    `Esta etiqueta dice que se mezcló dentro de ${minutes} min. Revise el reloj de este aparato y del que la imprimió.`,
  tooOld: (days, most) =>
    `Esta etiqueta dice que se mezcló hace ${days} días; una de más de ${most} días no es de fiar. No la pinte.`,
}

export const es: typeof en = { problem: ({ code, names }) => PROBLEMS[code](...names) }
