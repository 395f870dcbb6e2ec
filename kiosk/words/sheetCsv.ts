/** Words of sheets that come as a table. */

export const en = {
  template: 'Template of a table (CSV)',
  empty: 'The table has no row below its heads.',
  broken: 'A quotation mark in the table is never closed.',
  column: (given: string, columns: string) =>
    `Column "${given}" is not known. Known are: ${columns}.`,
  twice: (column: string) => `Column "${column}" is there twice.`,
  field: (row: number, column: string, sentence: string) => `Row ${row}, ${column}: ${sentence}`,
  more: (n: number) => (n === 1 ? 'One more is wrong.' : `${n} more are wrong.`),
  nothing: 'Nothing was taken over.',
}

export const es: typeof en = {
  template: 'Plantilla de una tabla (CSV)',
  empty: 'La tabla no tiene filas bajo sus encabezados.',
  broken: 'Hay unas comillas en la tabla que no se cierran.',
  column: (given, columns) => `No se conoce la columna "${given}". Se conocen: ${columns}.`,
  twice: (column) => `La columna "${column}" está dos veces.`,
  field: (row, column, sentence) => `Fila ${row}, ${column}: ${sentence}`,
  more: (n) => (n === 1 ? 'Hay otro dato mal.' : `Hay otros ${n} datos mal.`),
  nothing: 'No se tomó nada.',
}
