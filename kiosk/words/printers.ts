import type { PrintJob, PrintTrouble } from '../../machines/contract/printing.ts'
import { printTroubleText } from '../../machines/words/printing.ts'

/** Words of printing, in both languages: fetched with Setup's page of printers and with the label of a cup. */
export const en = {
  title: 'Printers',
  reading: 'Asking the server …',
  away: 'The server does not answer. Try again when it does.',
  none: 'A practice shop prints nothing. Print with this device’s own dialog.',
  empty: 'No printer yet. Labels go to this device’s own print dialog until one is added.',
  how: 'Any printer with IPP Everywhere or AirPrint works, and a queue of CUPS. Its address is on its network page.',
  address: 'Address, such as ipp://192.168.1.20/ipp/print',
  ask: 'ASK THE PRINTER',
  asking: 'Asking the printer …',
  found: (name: string, model: string) => (model === '' ? name : `${name}, ${model}`),
  paper: 'Labels in it',
  size: (widthMm: number, heightMm: number) => `${widthMm} x ${heightMm} mm`,
  ready: 'loaded',
  way: 'How to print',
  ways: { raster: (dpi: number) => `${dpi} dpi`, pdf: (dpi: number) => `PDF, ${dpi} dpi` },
  code: 'Code on its labels',
  codes: {
    qr: 'QR',
    datamatrix: 'Data Matrix, for scanners that read it',
    code128: 'Bars on sheets, QR on labels',
  },
  labels: 'Cups and phones',
  labelsHint:
    'A code wider than a quarter of a cup’s diameter bends out of a scanner’s view: it is warned of where a printer or its labels are chosen, and on the label itself.',
  fields: {
    cupsMm: 'Cups: diameter at mid-height',
    'cupsMm.+': 'A size of cup',
    phoneAddress:
      'Address of this kiosk for the cameras of phones (empty: codes name none), such as http://flashbell.lan:4600',
  },
  phoneHint:
    'With an address a phone’s own camera opens a label without an app. Its code becomes larger. Labels on paper stay as they are. Any phone with the address can then open the kiosk: use one that only the shop’s own network knows.',
  localAddress: 'That address is this computer’s own: a phone cannot reach it.',
  saveLabels: 'SAVE',
  tooWide: (widthMm: number, cupMm: number) =>
    `The code is up to ${widthMm.toFixed(1)} mm wide. On a cup of ${cupMm} mm it should be at most ${(cupMm / 4).toFixed(1)} mm. Put the label on the lid or on a flat face, or use Data Matrix if the scanners read it.`,
  noPaper: 'This printer does not say what is in it. Choose it here.',
  save: 'SAVE PRINTER',
  test: 'PRINT A RULER',
  testSmall: 'hold a rule against it: every mark is 1 mm',
  remove: 'REMOVE',
  trust: 'IT IS THE SAME: TRUST IT',
  here: 'THIS KIOSK PRINTS HERE',
  isHere: 'This kiosk prints here.',
  auto: 'After MIXED',
  autos: { yes: 'Print the label by itself', no: 'Wait for PRINT' },
  well: 'Ready.',
  placing:
    'Stick the label on a flat face or the lid first; else mid-height, 10 mm or more below the rim, clear of the scale and the pouring side.',
  material:
    'Coated thermal labels last one shift. For cups that are kept longer use plastic labels with a resin ribbon. Wipe one with solvent for 60 s: it must still scan.',
  hazardNote:
    'The printed hazard cue is a reminder, no proof of compliance. The shop’s written hazard program and the safety data sheets govern. Pictograms have black frames: packages that are shipped need red ones, and the site confirms that black will do on cups.',
  printHere: 'PRINT',
  printOn: (name: string) => `on ${name}`,
  ownDialog: 'This device’s print dialog',
  why: 'Why another label?',
  whys: {
    wiped: 'Wiped or torn',
    lost: 'Lost',
    other: 'Another place',
    late: 'Old one reads late',
  },
  steps: {
    waiting: 'The label waits for the printer.',
    sent: 'The label is on its way to the printer.',
    printing: 'The printer is printing.',
    done: 'Printed. Stick it on the cup.',
    failed: 'The label was not printed.',
  } satisfies Record<PrintJob['step'], string>,
  byHand: 'Write the cup by hand meanwhile.',
  cupsWithout: 'No label yet',
  trouble: (trouble: PrintTrouble) => printTroubleText(trouble, 'en'),
  named: (name: string, said: string) => `${name}: ${said}`,
}

export const es: typeof en = {
  title: 'Impresoras',
  reading: 'Preguntando al servidor …',
  away: 'El servidor no responde. Intente otra vez cuando responda.',
  none: 'Un taller de práctica no imprime. Use el diálogo de este dispositivo.',
  empty: 'Aún no hay impresora. Mientras tanto las etiquetas van al diálogo de este dispositivo.',
  how: 'Sirve toda impresora con IPP Everywhere o AirPrint, y una cola de CUPS. Su dirección está en su página de red.',
  address: 'Dirección, como ipp://192.168.1.20/ipp/print',
  ask: 'PREGUNTAR A LA IMPRESORA',
  asking: 'Preguntando a la impresora …',
  found: (name, model) => (model === '' ? name : `${name}, ${model}`),
  paper: 'Etiquetas que tiene',
  size: (widthMm, heightMm) => `${widthMm} x ${heightMm} mm`,
  ready: 'puesta',
  way: 'Cómo imprimir',
  ways: { raster: (dpi) => `${dpi} dpi`, pdf: (dpi) => `PDF, ${dpi} dpi` },
  code: 'Código en sus etiquetas',
  codes: {
    qr: 'QR',
    datamatrix: 'Data Matrix, para escáneres que lo leen',
    code128: 'Barras en hojas, QR en etiquetas',
  },
  labels: 'Vasos y teléfonos',
  labelsHint:
    'Un código más ancho que un cuarto del diámetro del vaso se dobla fuera de la vista del escáner: se avisa donde se elige una impresora o sus etiquetas, y en la etiqueta misma.',
  fields: {
    cupsMm: 'Vasos: diámetro a media altura',
    'cupsMm.+': 'Un tamaño de vaso',
    phoneAddress:
      'Dirección de esta terminal para las cámaras de teléfonos (vacío: los códigos no dicen ninguna), como http://flashbell.lan:4600',
  },
  phoneHint:
    'Con una dirección la cámara de un teléfono abre una etiqueta sin aplicación. El código crece. Las etiquetas ya impresas quedan como están. Todo teléfono con la dirección puede abrir entonces la terminal: use una que solo conozca la red del taller.',
  localAddress: 'Esa dirección es de esta misma computadora: un teléfono no la alcanza.',
  saveLabels: 'GUARDAR',
  tooWide: (widthMm, cupMm) =>
    `El código mide hasta ${widthMm.toFixed(1)} mm de ancho. En un vaso de ${cupMm} mm debe medir a lo más ${(cupMm / 4).toFixed(1)} mm. Ponga la etiqueta en la tapa o en una cara plana, o use Data Matrix si los escáneres lo leen.`,
  noPaper: 'Esta impresora no dice qué tiene puesto. Elíjalo aquí.',
  save: 'GUARDAR IMPRESORA',
  test: 'IMPRIMIR UNA REGLA',
  testSmall: 'mídala con una regla: cada marca es 1 mm',
  remove: 'QUITAR',
  trust: 'ES LA MISMA: ACEPTAR',
  here: 'ESTA TERMINAL IMPRIME AQUÍ',
  isHere: 'Esta terminal imprime aquí.',
  auto: 'Después de MEZCLADO',
  autos: { yes: 'Imprimir sola la etiqueta', no: 'Esperar IMPRIMIR' },
  well: 'Lista.',
  placing:
    'Ponga la etiqueta en una cara plana o en la tapa; si no, a media altura, 10 mm o más debajo del borde, sin tapar la escala ni el lado de verter.',
  material:
    'Las etiquetas térmicas con capa duran un turno. Para vasos que se guardan más use etiquetas de plástico con cinta de resina. Frote una con solvente 60 s: debe escanearse todavía.',
  hazardNote:
    'El aviso de peligro impreso es un recordatorio, no prueba de cumplimiento. Valen el programa escrito del taller y las hojas de seguridad. Los pictogramas llevan marco negro: los envases que se envían lo necesitan rojo, y el taller confirma que en los vasos basta el negro.',
  printHere: 'IMPRIMIR',
  printOn: (name) => `en ${name}`,
  ownDialog: 'Diálogo de impresión de este dispositivo',
  why: '¿Por qué otra etiqueta?',
  whys: {
    wiped: 'Borrada o rota',
    lost: 'Perdida',
    other: 'Otro lugar',
    late: 'La anterior dice muy tarde',
  },
  steps: {
    waiting: 'La etiqueta espera a la impresora.',
    sent: 'La etiqueta va en camino a la impresora.',
    printing: 'La impresora está imprimiendo.',
    done: 'Impresa. Péguela en el vaso.',
    failed: 'La etiqueta no se imprimió.',
  },
  byHand: 'Mientras tanto escriba en el vaso a mano.',
  cupsWithout: 'Aún sin etiqueta',
  trouble: (trouble) => printTroubleText(trouble, 'es'),
  named: (name, said) => `${name}: ${said}`,
}
