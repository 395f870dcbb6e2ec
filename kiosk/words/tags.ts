/** Words of tags, badges and sheets, in both languages: fetched with Codes and with Scan. */
export const en = {
  title: 'Print tags, badges and sheets',
  kind: 'What to print',
  kinds: {
    job: 'Job sheet',
    panel: 'Panel tag',
    person: 'Badge',
    gun: 'Gun tag',
    shelf: 'Shelf tag',
    commands: 'Command codes',
  },
  which: 'Which one',
  nothing: {
    job: 'No open job. Open one under Jobs.',
    panel: 'No panel in progress.',
    person: 'No people yet. Add them in Setup.',
    gun: 'No guns yet. Add them in Setup.',
    shelf: 'No sheets yet. Add one in Setup, Sheets.',
    commands: '',
  },
  lotField: 'Lot on that shelf (leave empty if it changes)',
  paper: 'Paper',
  papers: { '4x6': '4 x 6 in', A4: 'A4', letter: 'Letter' },
  code: 'Codes',
  codes: { qr: 'QR', code128: 'Bars, for old scanners' },
  pages: (n: number) => (n === 1 ? '1 page' : `${n} pages`),
  print: 'PRINT',
  on: (name: string) => `on ${name}`,
  pdf: 'OPEN AS PDF',
  pdfSmall: 'print at 100 %, not “fit to page”',
  steps: {
    waiting: 'It waits for the printer.',
    sent: 'It is on its way to the printer.',
    printing: 'The printer is printing.',
    done: 'Printed.',
    failed: 'It was not printed.',
  },
  away: 'The server does not answer. Try again when it does.',
  noPreview: 'The picture did not come. The server may be away.',
  unknown: {
    person: (id: string) =>
      `No person ${id} works in this shop. Was the badge of someone who left?`,
    gun: (id: string) => `There is no gun ${id}. Add it in Setup, or print its tag again.`,
    product: (id: string) => `There is no product ${id}. Add it in Setup, or print its tag again.`,
  },
  /** A tag that holds no id for a machine to say: it is printed on it. */
  unknownTag: {
    person:
      'Nobody with the id printed on this badge works in this shop. Was it of someone who left?',
    gun: 'There is no gun with the id printed on this tag. Add it in Setup under that id.',
    product:
      'There is no product with the id printed on this tag. Add it in Setup under that id, or print a tag of another.',
  },
  worksHere: (name: string) => `${name} works on this kiosk now.`,
  toGuns: 'CUPS AND GUNS',
  loadFrom: (cup: string) => `LOAD FROM ${cup}`,
  lot: (lot: string) => `Lot ${lot}`,
  lots: 'Lots',
}

export const es: typeof en = {
  title: 'Imprimir etiquetas, gafetes y hojas',
  kind: 'Qué imprimir',
  kinds: {
    job: 'Hoja del trabajo',
    panel: 'Etiqueta de panel',
    person: 'Gafete',
    gun: 'Etiqueta de pistola',
    shelf: 'Etiqueta de estante',
    commands: 'Códigos de órdenes',
  },
  which: 'Cuál',
  nothing: {
    job: 'No hay trabajo abierto. Abra uno en Trabajos.',
    panel: 'Ningún panel en proceso.',
    person: 'Aún no hay personas. Agréguelas en Ajustes.',
    gun: 'Aún no hay pistolas. Agréguelas en Ajustes.',
    shelf: 'Aún no hay fichas. Agregue una en Ajustes, Fichas.',
    commands: '',
  },
  lotField: 'Lote en ese estante (déjelo vacío si cambia)',
  paper: 'Papel',
  papers: { '4x6': '4 x 6 in', A4: 'A4', letter: 'Carta' },
  code: 'Códigos',
  codes: { qr: 'QR', code128: 'Barras, para escáneres viejos' },
  pages: (n) => (n === 1 ? '1 hoja' : `${n} hojas`),
  print: 'IMPRIMIR',
  on: (name) => `en ${name}`,
  pdf: 'ABRIR COMO PDF',
  pdfSmall: 'imprima al 100 %, sin “ajustar a la página”',
  steps: {
    waiting: 'Espera a la impresora.',
    sent: 'Va en camino a la impresora.',
    printing: 'La impresora está imprimiendo.',
    done: 'Impreso.',
    failed: 'No se imprimió.',
  },
  away: 'El servidor no responde. Intente otra vez cuando responda.',
  noPreview: 'La imagen no llegó. Quizá no se alcanza el servidor.',
  unknown: {
    person: (id) =>
      `Ninguna persona ${id} trabaja en este taller. ¿Era el gafete de alguien que se fue?`,
    gun: (id) => `No existe la pistola ${id}. Agréguela en Ajustes o imprima otra vez su etiqueta.`,
    product: (id) =>
      `No existe el producto ${id}. Agréguelo en Ajustes o imprima otra vez su etiqueta.`,
  },
  unknownTag: {
    person:
      'Nadie con el código impreso en este gafete trabaja en este taller. ¿Era de alguien que se fue?',
    gun: 'No existe una pistola con el código impreso en esta etiqueta. Agréguela en Ajustes con ese código.',
    product:
      'No existe un producto con el código impreso en esta etiqueta. Agréguelo en Ajustes con ese código o imprima la etiqueta de otro.',
  },
  worksHere: (name) => `${name} trabaja ahora en esta terminal.`,
  toGuns: 'VASOS Y PISTOLAS',
  loadFrom: (cup) => `CARGAR DE ${cup}`,
  lot: (lot) => `Lote ${lot}`,
  lots: 'Lotes',
}
