/** Words of what a shop did in a day, in both languages: fetched with the page that closes it. */
export const en = {
  title: 'Done today',
  away: 'The server cannot be reached: what was done today is counted there.',
  nothing: 'Nothing was sprayed, mixed or sent back today.',
  coats: (n: number, stage: string) => (n === 1 ? `1 coat of ${stage}` : `${n} coats of ${stage}`),
  otherCoat: 'a product that was not known',
  cups: (n: number) => (n === 1 ? '1 cup' : `${n} cups`),
  discarded: (n: number) => (n === 1 ? '1 cup discarded' : `${n} cups discarded`),
  passed: (n: number) => (n === 1 ? '1 panel passed' : `${n} panels passed`),
  sentBack: (n: number) => `sent back ${n}×`,
  denibbed: (n: number) => `denibbed ${n}×`,
  abraded: (n: number) => `abraded ${n}×`,
  brokenOff: (n: number) => `coat broken off ${n}×`,
  overrides: (n: number) => (n === 1 ? '1 override' : `${n} overrides`),
  parts: { coats: 'Coats', material: 'Material mixed', again: 'Done again', panels: 'Panels' },
}

export const es: typeof en = {
  title: 'Hecho hoy',
  away: 'No se puede llegar al servidor: allí se cuenta lo hecho hoy.',
  nothing: 'Hoy no se aplicó, mezcló ni devolvió nada.',
  coats: (n, stage) => (n === 1 ? `1 mano de ${stage}` : `${n} manos de ${stage}`),
  otherCoat: 'un producto desconocido',
  cups: (n) => (n === 1 ? '1 vaso' : `${n} vasos`),
  discarded: (n) => (n === 1 ? '1 vaso desechado' : `${n} vasos desechados`),
  passed: (n) => (n === 1 ? '1 panel aprobado' : `${n} paneles aprobados`),
  sentBack: (n) => `devuelto ${n}×`,
  denibbed: (n) => `motas quitadas ${n}×`,
  abraded: (n) => `lijado ${n}×`,
  brokenOff: (n) => `mano interrumpida ${n}×`,
  overrides: (n) => (n === 1 ? '1 excepción' : `${n} excepciones`),
  parts: { coats: 'Manos', material: 'Material mezclado', again: 'Repetido', panels: 'Paneles' },
}
