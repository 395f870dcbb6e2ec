import type { ClockStyle } from './time.ts'

export type Language = ClockStyle['language']

/** The words of a label. Signal words are those of the UN GHS in each language. */
const EN = {
  useBy: 'USE BY',
  mixed: 'MIXED',
  noPotLife: 'NO POT-LIFE LIMIT',
  stir: 'STIR',
  keepUntil: 'KEEP UNTIL',
  more: 'MORE',
  volume: 'VOL',
  mass: 'WEIGHT',
  at: 'AT',
  minutes: 'MIN',
  hours: 'H',
  by: 'BY',
  from: 'FROM',
  copy: 'COPY',
  panel: 'PANEL',
  job: 'JOB',
  stock: 'STOCK',
  danger: 'DANGER',
  warning: 'WARNING',
  noSignal: 'SEE SAFETY SHEET',
  missing: 'HAZARD DATA MISSING – TREAT AS DANGER',
  isocyanate: 'ISOCYANATE – RESPIRATORY SENSITIZER',
  twoPart: '2K – SEE SAFETY SHEET',
  gun: 'GUN',
  lot: 'LOT',
  codes: 'SCAN INSTEAD OF TOUCHING',
  codesHint: 'A CODE APPLIES TO THE PANEL SCANNED LAST',
  page: 'PAGE',
}

export type Words = { readonly [K in keyof typeof EN]: string }

const ES: Words = {
  useBy: 'USAR HASTA',
  mixed: 'MEZCLA',
  noPotLife: 'SIN LÍMITE DE USO',
  stir: 'AGITAR',
  keepUntil: 'GUARDAR HASTA',
  more: 'MÁS',
  volume: 'VOL',
  mass: 'PESO',
  at: 'A',
  minutes: 'MIN',
  hours: 'H',
  by: 'POR',
  from: 'DE',
  copy: 'COPIA',
  panel: 'PANEL',
  job: 'TRABAJO',
  stock: 'EXISTENCIAS',
  danger: 'PELIGRO',
  warning: 'ATENCIÓN',
  noSignal: 'VER HOJA DE SEGURIDAD',
  missing: 'SIN DATOS DE PELIGRO – TRATAR COMO PELIGROSO',
  isocyanate: 'ISOCIANATO – SENSIBILIZANTE RESPIRATORIO',
  twoPart: '2K – VER HOJA DE SEGURIDAD',
  gun: 'PISTOLA',
  lot: 'LOTE',
  codes: 'ESCANEAR EN VEZ DE TOCAR',
  codesHint: 'UN CÓDIGO VALE PARA EL ÚLTIMO PANEL ESCANEADO',
  page: 'HOJA',
}

export const wordsOf = (language: Language): Words => (language === 'es' ? ES : EN)

const unaccented = (text: string) => text.normalize('NFD').replace(/\p{M}/gu, '')

/** Without accents, for a label so full that there is no room above its capitals. */
export const plainWords = (words: Words): Words => ({
  ...words,
  warning: unaccented(words.warning),
  more: unaccented(words.more),
})
