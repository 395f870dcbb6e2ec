/** Words of a shop's first day: how an empty shop is begun, and sheets that are only samples. */

export const en = {
  title: 'Start here',
  why: 'Flashbell reads every time from the sheets of your products. There are none yet.',
  samples: 'START WITH SAMPLE SHEETS',
  samplesWhy:
    'Four invented products: plastic promoter, primer, waterborne base, 2K clear. They are marked SAMPLE until you check them against a maker’s sheet.',
  type: 'TYPE THE FIRST SHEET',
  typeWhy: 'From the paper that came with the product. About five minutes.',
  import: 'IMPORT SHEETS',
  importWhy: 'From a file: JSON of another shop, or a table (CSV).',
  tour: 'SHORT TOUR OF THE WALL',
  sample: 'SAMPLE',
  isSample:
    'SAMPLE: these figures are invented. Compare every one with the maker’s sheet of your product, and change what differs, before you spray by it.',
  checked: 'CHECKED AGAINST THE MAKER’S SHEET',
}

export const es: typeof en = {
  title: 'Empiece aquí',
  why: 'Flashbell toma todos los tiempos de las fichas de sus productos. Aún no hay ninguna.',
  samples: 'EMPEZAR CON FICHAS DE MUESTRA',
  samplesWhy:
    'Cuatro productos inventados: promotor para plásticos, primer, base al agua, transparente 2K. Llevan la marca MUESTRA hasta que las revise con la ficha del fabricante.',
  type: 'ESCRIBIR LA PRIMERA FICHA',
  typeWhy: 'Del papel que vino con el producto. Unos cinco minutos.',
  import: 'IMPORTAR FICHAS',
  importWhy: 'De un archivo: JSON de otro taller, o una tabla (CSV).',
  tour: 'RECORRIDO CORTO DEL TABLERO',
  sample: 'MUESTRA',
  isSample:
    'MUESTRA: estos datos son inventados. Compare cada uno con la ficha del fabricante de su producto, y cambie lo que difiera, antes de pintar con ella.',
  checked: 'REVISADA CON LA FICHA DEL FABRICANTE',
}
