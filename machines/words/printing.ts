import type { PrintTrouble, PrintTroubleParams } from '../contract/printing.ts'

/** Why a label is not on paper, and what to do: one table a language, fetched when it is needed. */

type Sentences = { readonly [C in keyof PrintTroubleParams]: (p: PrintTroubleParams[C]) => string }

const PIECES: {
  readonly en: Readonly<Record<string, string>>
  readonly es: Readonly<Record<string, string>>
} = {
  en: {
    ...{ cup: 'cup', panel: 'panel', ruler: 'printer', job: 'job', person: 'person' },
    ...{ gun: 'gun', shelf: 'product' },
  },
  es: {
    ...{ cup: 'vaso', panel: 'panel', ruler: 'impresora', job: 'trabajo', person: 'persona' },
    ...{ gun: 'pistola', shelf: 'producto' },
  },
}

const en: Sentences = {
  away: ({ address }) =>
    `The printer at ${address} does not answer. Is it on, and on this network?`,
  notPrinter: ({ address }) =>
    `What answers at ${address} is not a printer. Check the address and its path.`,
  unknownCertificate: ({ fingerprint, isOther }) =>
    `${isOther ? 'Another certificate than before' : 'Nobody vouches for this printer’s certificate'}: ${fingerprint}. Compare it with the one on the printer’s own page, then trust it in Setup, Printers.`,
  badCertificate: ({ reason }) =>
    `The printer’s certificate cannot be used: ${reason}. Renew it on the printer’s own page, or use its ipp:// address.`,
  outOfMedia: () => 'The printer is out of labels. Load a roll.',
  outOfSupply: () => 'The printer is out of ribbon or ink. Replace it.',
  jam: () => 'A label is jammed in the printer. Clear it.',
  open: () => 'The cover of the printer is open. Close it.',
  paused: () => 'The printer is paused. Press its button to go on.',
  busy: () => 'The printer is busy with another job. It is tried again.',
  stopped: ({ reason }) => `The printer has stopped: ${reason}.`,
  refused: ({ reason }) => `The printer did not take it: ${reason}.`,
  noFormat: ({ formats }) =>
    `The printer takes ${formats.join(', ') || 'nothing known'}. It needs PWG raster or PDF.`,
  noResolution: ({ resolutions }) =>
    `The printer prints at ${resolutions.join(', ') || 'no known resolution'}. It needs 203 or 300 dpi, or a multiple of one.`,
  noMedia: ({ media }) => `The printer does not have this paper. It has ${media.join(', ')}.`,
  tooSmall: ({ widthMm, heightMm, missing }) =>
    `It does not fit on ${widthMm} x ${heightMm} mm: ${missing}. Use larger labels.`,
  unknownPrinter: ({ printer }) => `There is no printer ${printer} any more. Choose one in Setup.`,
  noPrinter: () => 'No printer is set up for this. Add one in Setup, Printers.',
  unknownThing: ({ kind, id }) => `There is no ${PIECES.en[kind] ?? kind} ${id}.`,
  overtaken: () => 'It was not needed any more.',
  tooLate: () => 'It waited for half a day. Print it again if it is still needed.',
}

const es: Sentences = {
  away: ({ address }) => `La impresora en ${address} no responde. ¿Está encendida y en esta red?`,
  notPrinter: ({ address }) =>
    `Lo que responde en ${address} no es una impresora. Revise la dirección y su ruta.`,
  unknownCertificate: ({ fingerprint, isOther }) =>
    `${isOther ? 'Otro certificado que antes' : 'Nadie responde por el certificado de esta impresora'}: ${fingerprint}. Compárelo con el de la página de la impresora y acéptelo en Ajustes, Impresoras.`,
  badCertificate: ({ reason }) =>
    `El certificado de la impresora no sirve: ${reason}. Renuévelo en la página de la impresora, o use su dirección ipp://.`,
  outOfMedia: () => 'La impresora no tiene etiquetas. Ponga un rollo.',
  outOfSupply: () => 'La impresora no tiene cinta o tinta. Cámbiela.',
  jam: () => 'Hay una etiqueta atorada en la impresora. Sáquela.',
  open: () => 'La tapa de la impresora está abierta. Ciérrela.',
  paused: () => 'La impresora está en pausa. Oprima su botón para seguir.',
  busy: () => 'La impresora está ocupada con otro trabajo. Se intentará otra vez.',
  stopped: ({ reason }) => `La impresora se detuvo: ${reason}.`,
  refused: ({ reason }) => `La impresora no lo aceptó: ${reason}.`,
  noFormat: ({ formats }) =>
    `La impresora acepta ${formats.join(', ') || 'nada conocido'}. Necesita PWG raster o PDF.`,
  noResolution: ({ resolutions }) =>
    `La impresora imprime a ${resolutions.join(', ') || 'una resolución desconocida'}. Necesita 203 o 300 dpi, o un múltiplo.`,
  noMedia: ({ media }) => `La impresora no tiene este papel. Tiene ${media.join(', ')}.`,
  tooSmall: ({ widthMm, heightMm, missing }) =>
    `No cabe en ${widthMm} x ${heightMm} mm: ${missing}. Use etiquetas más grandes.`,
  unknownPrinter: ({ printer }) => `Ya no hay impresora ${printer}. Elija una en Ajustes.`,
  noPrinter: () => 'No hay impresora para esto. Agregue una en Ajustes, Impresoras.',
  unknownThing: ({ kind, id }) => `No existe ${PIECES.es[kind] ?? kind} ${id}.`,
  overtaken: () => 'Ya no hacía falta.',
  tooLate: () => 'Esperó medio día. Imprímalo otra vez si todavía hace falta.',
}

export const PRINT_TROUBLES = { en, es }

/** @returns a sentence, or two where there is something to do */
export const printTroubleText = ({ code, params }: PrintTrouble, language: 'en' | 'es'): string =>
  (PRINT_TROUBLES[language][code] as (p: object) => string)(params)
