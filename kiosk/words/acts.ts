import type { Words } from './en.ts'

/** Words of what may be done with a panel: fetched with the sheet of its acts. */
const en = {
  noAirIn: (zone: string) =>
    `${zone}: no reading of the air. Its clocks keep to the careful end of the sheet.`,
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
  noAirIn: (zone) =>
    `${zone}: sin lectura del aire. Sus relojes usan el extremo prudente de la ficha.`,
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
