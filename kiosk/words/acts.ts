import type { Words } from './en.ts'

/** Words of what may be done with a panel: fetched with the sheet of its acts. */
const en = {
  wetFilm: (um: number) => `WET FILM ${um} µm`,
  unchecked: (from: string) => `${from}, not stirred and strained`,
  denibbedToGround: 'DENIBBED THROUGH TO GROUND COAT',
  oversprayAbraded: 'OVERSPRAY ABRADED',
  abradedBy: (pad: string) => `ABRADED, ${pad.toUpperCase()}`,
  partAt: (basis: 'part' | 'air', temp: string, minutes: number) =>
    `${basis === 'part' ? 'PART' : 'AIR'} AT ${temp}: ${minutes} MIN`,
  oneMore: (stage: string) => `ONE MORE ${stage.toUpperCase()}`,
  bakeUnset: 'START BAKE, SETTING NOT KNOWN',
  anotherCup: (cup: string) => `continue from ${cup}`,
  denibbed: 'DENIBBED',
  /** What has to be known before a start is pressed. */
  before: {
    strain: (um: number) => `Strain it through ${um} µm.`,
    viscosity: (said: string) => `By its sheet it is sprayed at ${said}.`,
    matte: 'A matte finish is not polished later: tack it clean first.',
    shouldBeEmpty: 'By what was sprayed this cup should be empty: weigh it, or go on.',
    fewMl: (left: string, needs: string) =>
      `About ${left} left in this cup; this pass takes about ${needs}. An estimate.`,
    lasts: (n: number, of: number) =>
      n === 0 ? 'This cup ends before the coat does.' : `This cup lasts for ${n} of ${of} panels.`,
    filmOver: (name: string, um: number, most: number) =>
      `${name}: its film comes to ${um} µm; the sheet allows ${most} µm.`,
  },
  noAirIn: (zone: string) =>
    `${zone}: no recent reading of the air. Its clocks keep to the careful end of the sheet.`,
  readAir: 'READ AIR',
  startAnyway: 'Or press START: it is logged that nobody measured.',
  moveIt: 'IT IS IN ANOTHER ZONE',
  noSurface: (panel: string) => `${panel}: nobody measured how warm it is.`,
  readSurface: 'READ SURFACE',
  orFiner: 'this or finer, also from now on',
  dropOver: {
    wet: 'over wet, also from now on',
    halfMatte: 'over half-matte, also from now on',
    matte: 'over matte, also from now on',
  },
  ago: (min: number) => `${min} min ago`,
  finishedAgo: 'Finished earlier:',
  alone: 'FINISH',
  aloneSmall: (cup: string) => `start not pressed, from ${cup}`,
  setClearance: 'Type its clearance time',
  notClear: (zone: string) =>
    `${zone} has no clearance time, and isocyanates were sprayed in it. The air-fed mask stays on until a person says how it was found to be clear.`,
  clearedBy: {
    smokeTest: 'SMOKE TEST IS CLEAR',
    gauge: 'METER SAYS CLEAR',
    leftOvernight: 'LEFT OVERNIGHT, FAN ON',
  },
  lookOver: 'What is seen …',
  otherActs: 'Other …',
  nothingShared: 'No step fits all of these panels.',
  gauge: (um: number) => `GAUGE SHOWS ${um} µm`,
  kinds: { light: 'LIGHT COAT', drop: 'DROP COAT', blend: 'BLEND COAT', heavy: 'HEAVY COAT' },
  noCure: 'The sheet of what is on this panel has no cure: neither air nor bake nor infrared.',
  heatFlashAsk: (sheet: string) =>
    `The sheet of ${sheet} does not say how long it flashes before heat. Enter it once, or choose “none”.`,
  heatFlashEnter: 'ENTER FLASH BEFORE HEAT',
  skipOrChange: 'SKIP OR CHANGE THE STEP',
  chosen: (n: number) => (n === 1 ? '1 panel' : `${n} panels`),
  results: {
    good: 'GOOD',
    nibsOut: 'NIBS OUT',
    run: 'RUN',
    dry: 'DRY SPRAY',
    mottle: 'MOTTLE',
    fisheye: 'FISHEYE',
    notCovered: 'NOT COVERED',
  },
}

const es: typeof en = {
  wetFilm: (um) => `PELÍCULA HÚMEDA ${um} µm`,
  unchecked: (from) => `${from}, sin agitar ni colar`,
  denibbedToGround: 'BASURA QUITADA HASTA EL FONDO',
  oversprayAbraded: 'NIEBLA LIJADA',
  abradedBy: (pad) => `LIJADO, ${pad.toUpperCase()}`,
  partAt: (basis, temp, minutes) =>
    `${basis === 'part' ? 'PIEZA' : 'AIRE'} A ${temp}: ${minutes} MIN`,
  oneMore: (stage) => `UNA MÁS DE ${stage.toUpperCase()}`,
  bakeUnset: 'HORNEAR, AJUSTE DESCONOCIDO',
  anotherCup: (cup) => `seguir con ${cup}`,
  denibbed: 'BASURA QUITADA',
  before: {
    strain: (um) => `Cuélelo por ${um} µm.`,
    viscosity: (said) => `Según su ficha se aplica a ${said}.`,
    matte: 'Un acabado mate no se pule después: deje limpia la pieza antes.',
    shouldBeEmpty: 'Por lo aplicado, este vaso debería estar vacío: péselo, o siga.',
    fewMl: (left, needs) =>
      `Quedan unos ${left} en este vaso; esta pasada lleva unos ${needs}. Es una estimación.`,
    lasts: (n, of) =>
      n === 0
        ? 'Este vaso se vence antes de terminar la mano.'
        : `Este vaso alcanza para ${n} de ${of} paneles.`,
    filmOver: (name, um, most) =>
      `${name}: su película llega a ${um} µm; la ficha admite ${most} µm.`,
  },
  noAirIn: (zone) =>
    `${zone}: sin lectura reciente del aire. Sus relojes usan el extremo prudente de la ficha.`,
  readAir: 'LEER EL AIRE',
  startAnyway: 'O pulse EMPEZAR: queda registrado que nadie midió.',
  moveIt: 'ESTÁ EN OTRA ZONA',
  noSurface: (panel: string) => `${panel}: nadie midió qué tan caliente está.`,
  readSurface: 'MEDIR LA PIEZA',
  orFiner: 'éste o más fino, también en adelante',
  dropOver: {
    wet: 'sobre húmedo, también en adelante',
    halfMatte: 'sobre semimate, también en adelante',
    matte: 'sobre mate, también en adelante',
  },
  ago: (min) => `hace ${min} min`,
  finishedAgo: 'Terminó antes:',
  alone: 'TERMINAR',
  aloneSmall: (cup) => `no se marcó el inicio, de ${cup}`,
  setClearance: 'Escribir su tiempo de despeje',
  notClear: (zone) =>
    `${zone} no tiene tiempo de despeje y allí se pintó con isocianatos. La máscara con aire sigue puesta hasta que una persona diga cómo comprobó que está limpia.`,
  clearedBy: {
    smokeTest: 'PRUEBA DE HUMO: LIMPIO',
    gauge: 'EL MEDIDOR DICE LIMPIO',
    leftOvernight: 'TODA LA NOCHE VENTILANDO',
  },
  lookOver: 'Qué se ve …',
  otherActs: 'Otros …',
  nothingShared: 'Ningún paso sirve para todos estos paneles.',
  gauge: (um) => `EL MEDIDOR MARCA ${um} µm`,
  kinds: {
    light: 'MANO FINA',
    drop: 'MANO DE GOTA',
    blend: 'MANO DE DIFUMINADO',
    heavy: 'MANO CARGADA',
  },
  noCure: 'La ficha de lo aplicado no tiene curado: ni al aire, ni horneado, ni infrarrojo.',
  heatFlashAsk: (sheet) =>
    `La ficha de ${sheet} no dice cuánto evapora antes del calor. Escríbalo una vez, o elija “ninguna”.`,
  heatFlashEnter: 'ESCRIBIR EVAPORACIÓN ANTES DEL CALOR',
  skipOrChange: 'OMITIR O CAMBIAR EL PASO',
  chosen: (n) => (n === 1 ? '1 panel' : `${n} paneles`),
  results: {
    good: 'BIEN',
    nibsOut: 'BASURA QUITADA',
    run: 'ESCURRIDO',
    dry: 'ROCÍO SECO',
    mottle: 'MANCHADO',
    fisheye: 'OJO DE PESCADO',
    notCovered: 'NO CUBRE',
  },
}

export const actsIn = ({ locale }: Pick<Words, 'locale'>): typeof en => (locale === 'es' ? es : en)
