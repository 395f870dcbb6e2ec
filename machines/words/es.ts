import type { StoreFault } from '../contract/damage.ts'
import type { AirLimits, NamedThing, NotDue } from '../refusalParams.ts'
import { coats, colourRules, OPENS, UNDER } from './coats.es.ts'
import { backupSaid, keeping } from './keeping.es.ts'
import { labels, WHAT } from './labels.es.ts'
import { room } from './room.es.ts'
import { size } from './size.ts'
import type { Figures, Measured, Words } from './types.ts'
import { notVoided } from './undo.es.ts'

const range = ({ values: [from, to], unit }: Measured): string =>
  `de ${from} a ${to}${unit ? ` ${unit}` : ''}`
const upTo = ({ values: [to], unit }: Measured): string => `${to}${unit ? ` ${unit}` : ''}`

const UNITS: Readonly<Record<string, string>> = {
  K: '°C',
  fraction: '(0.55 es 55 %)',
  'L*': '(L*)',
  'a*, b*': '(a* y b*)',
  parts: 'partes',
  'parts by volume': 'partes en volumen',
  coats: 'manos',
  panels: 'paneles',
  jobs: 'trabajos',
  days: 'días',
  bells: 'timbres',
}

const THINGS: Readonly<Record<NamedThing, string>> = {
  job: 'el trabajo',
  panel: 'el panel',
  sheet: 'la ficha',
  person: 'la persona',
  colour: 'el color',
  card: 'la muestra',
  activator: 'el catalizador',
  reducer: 'el reductor',
  entry: 'la entrada',
  command: 'el comando',
}
const TAKEN = { job: 'un trabajo', panel: 'un panel', cup: 'un vaso' } as const
const STATES: Readonly<Record<string, string>> = {
  open: 'abierto',
  paused: 'en pausa',
  closed: 'cerrado',
}
const stateOf = (state: string): string => STATES[state] ?? state
const NEXT: Readonly<Record<string, string>> = {
  coatStart: 'empezar una mano',
  sendBack: 'devolverlo a un paso',
  nothing: 'nada más por hacer',
}
const names = (list: string, { name }: Figures): string => list.split(', ').map(name).join(', ')
const next = (limit: string, f: Figures): string => NEXT[limit] ?? names(limit, f)

const airLimits = ({ minC, maxC, maxRh }: AirLimits, f: Figures): string =>
  [
    minC === undefined ? '' : `desde ${f.temperature(minC)}`,
    maxC === undefined ? '' : `hasta ${f.temperature(maxC)}`,
    maxRh === undefined ? '' : `hasta ${f.humidity(maxRh)}`,
  ]
    .filter((part) => part !== '')
    .join(', ')

const NOT_DUE: Readonly<Record<NotDue, string>> = {
  gone: 'Su espera terminó o se canceló.',
  early: 'Es demasiado pronto.',
  notRung: 'No ha sonado.',
  acknowledged: 'Ya se contestó.',
  notThatFar: 'No está puesto para llamar a tanta gente.',
}

const reasonIs = (reason: StoreFault | null): string =>
  reason === null ? '' : ` ${keeping.store[reason]}`

export const es: Words = {
  unit: (unit) => UNITS[unit] ?? unit,
  body: 'el cuerpo',
  wrong: (name, given, use) => {
    if (given === undefined)
      return `${name === null ? 'Falta este dato' : `Falta ${name}`}. Use ${use}.`
    return `${name === null ? '' : `${name}: `}${given} no sirve. Use ${use}.`
  },
  tooLarge: (name, use) => `${name ?? 'Esto'}: es demasiado grande. Use ${use}.`,
  toGo: (length) => `Faltan ${length}.`,
  labels,
  rules: {
    value: () => 'un valor',
    object: ({ fields }) => (fields ? `un objeto con ${fields.join(', ')}` : 'un objeto'),
    onlyFields: ({ fields }) => `solo estos campos: ${fields.join(', ')}`,
    number: ({ min, max, unit }, f) => `un número ${range(f.measured([min, max], unit))}`,
    above0: ({ max, unit }, f) => `un número mayor que 0, hasta ${upTo(f.measured([max], unit))}`,
    whole: ({ min, max, unit }, f) => `un número entero ${range(f.measured([min, max], unit))}`,
    utcMs: ({ min, max }) => `milisegundos UTC de ${min} a ${max} (2020 a 2100)`,
    text: ({ max }) => `un texto de 1 a ${max} caracteres`,
    plainText: () => 'un texto sin NUL ni caracteres rotos',
    id8: ({ alphabet }) => `ocho caracteres de ${alphabet}`,
    id40: () => 'de 1 a 40 caracteres: A-Z, a-z, 0-9 y -',
    oneOf: ({ words }) => `uno de estos: ${words.join(', ')}`,
    yesNo: () => 'sí o no',
    listTooLong: ({ most }) =>
      `como mucho ${most} comandos a la vez; de esta lista no se decidió nada`,
    list: ({ min, max }) => `una lista de ${min} a ${max} líneas`,
    noneTwice: () => 'una lista sin repetidos',
    sha256: () => 'un SHA-256 en hexadecimal, en minúsculas',
    entryOrCommand: () => 'o bien entry o bien command',
    timeOfDay: () => 'una hora del día, como 07:30',
    timeZone: () => 'una zona horaria IANA, como America/Mexico_City',
    moreThanFirst: () => 'más segundos que lo primero',
    notBelowFirst: () => 'no menos que su mínimo',
    signedOff: ({ aboveDb }) =>
      `sí por encima de ${aboveDb} dB(A): solo lo que el taller firmó por escrito`,
    points: ({ apartC }) =>
      `uno o más puntos, separados al menos ${apartC} °C, todos de cero minutos o todos mayores`,
    potLife: () => 'puntos de más de cero minutos, o null si no tiene vida útil',
    recoat: () => 'puntos de más de cero minutos, "unlimited" o "mustSand"',
    coatsInOrder: () => 'un mínimo no mayor que lo previsto, y lo previsto no mayor que el máximo',
    somePart: () => 'componentes de los que al menos uno tenga partes',
    noLowerThan: ({ field, atC }, f) =>
      `una temperatura no menor que ${field}, ${upTo(f.measured([atC], '°C'))}`,
    nameOnce: ({ list }) => `un nombre que no esté ya en ${list}`,
    volatiles: () => 'todos los volátiles juntos, no menos que agua y solvente exento',
    stageOfSheet: ({ stage, sheet }) => `"${stage}", la etapa de ${sheet}`,
    wholeFace: () => '"whole": un difuminado lleva transparente de canto a canto',
    workOfPrep: () => 'work solo en un paso de etapa prep',
    stageOrSheet: () => 'o stage o sheet',
    wetFilm: () => 'gauge: aquí no hay ninguna mano que esté húmeda',
    partWhileBaking: () => 'una temperatura en °C; solo mientras se hornea no hace falta',
    beforeFinish: () => 'una hora anterior al final',
    notAhead: ({ nowMs }, f) => `una hora que no sea futura (ahora: ${f.utcMs(nowMs)})`,
    notAfterEntry: ({ enteredAtMs }, f) =>
      `una hora no posterior a cuando se escribió (${f.utcMs(enteredAtMs)})`,
    lateReason: ({ minutes }) => `un motivo: pasó ${minutes} min antes de escribirse`,
    lateLead: ({ hours }) =>
      `un jefe, que diga quién está: pasó más de ${hours} h antes de escribirse`,
    newestProtocol: ({ protocol }) => `el protocolo ${protocol} o uno anterior`,
    ratio: () => '2:1, 2:1:0.5 o 4:1+10%, con la primera parte mayor que 0',
    densities: ({ count }) => `${count} densidades en g/mL, una por cada parte de la proporción`,
    weights: ({ most }) => `como mucho ${most} pesos, uno por cada parte`,
    noneOfIt: () => '0: la proporción no lleva nada de eso',
    scaleStep: ({ mostG }) =>
      `un número mayor que 0, hasta ${mostG} g, para que se vea la primera parte`,
    belowCutOut: ({ kPa, hoseDropKpa }, f) =>
      `una presión menor que la de corte${hoseDropKpa ? ' menos lo que pierde la manguera' : ''}, ${upTo(f.measured([kPa], 'kPa'))}`,
    withinPotLife: ({ minutes }) => `como mucho la vida útil con este aire, ${minutes} min`,
    oneFilm: () => 'o bien la película húmeda o bien la seca, en µm',
    filmAlone: () => 'solo la película húmeda, sin la seca',
    exemptDensity: () => 'la densidad del solvente exento en g/mL',
    roomForWater: () =>
      'una densidad con la que agua y solvente exento no ocupen más que el componente',
    notAllWater: () => 'al menos un componente que no sea todo agua y solvente exento',
    notWithAfter: () => 'nada de esto con «no después»: solo la evaporación depende de la humedad',
    ...colourRules,
    json: () => 'JSON',
    utf8: () => 'JSON como texto UTF-8',
    host: ({ names }) => `uno de ${names.join(', ')}, con puerto o sin él`,
    depth: ({ most }) => `listas y objetos de no más de ${most} niveles`,
    bodySize: ({ bytes }) => `como mucho ${size(bytes)} (${bytes} bytes)`,
    hasText: () => 'texto Unicode, números finitos y listas y objetos poco profundos',
    picture: () => 'una imagen JPEG, PNG o WebP',
    pictureSize: ({ bytes }) => `una foto de hasta ${size(bytes)} (${bytes} bytes)`,
    fileName: ({ forms }) => forms.join(' o '),
    printerAddress: () => 'una dirección como ipp://192.168.1.20/ipp/print',
    fingerprint: () => 'una huella de 32 pares de cifras hexadecimales separados por dos puntos',
    siteAddress: () =>
      'una dirección como http://flashbell.lan:4600, de 40 caracteres como máximo y sin nada detrás del puerto',
    path: () => 'una ruta completa en la computadora del servidor, como /media/usb/respaldos',
    longerId: ({ ids }) => `más de uno de estos: ${ids.join(', ')}`,
    label: () => 'el texto de una etiqueta, o el principio de un identificador',
  },
  onlyLead: 'Solo un jefe puede continuar, con su propio nombre.',
  refusals: {
    ...coats,
    unknownThing: ({ what, value, limit }) => {
      const thing = `Aquí no existe ${THINGS[what]} ${value}.`
      if (limit === null) return thing
      return limit.length === 0
        ? `${thing} Todavía no hay nada que elegir.`
        : `${thing} Use uno de estos: ${limit.join(', ')}.`
    },
    idTaken: ({ what, value }) =>
      `Ya existe ${TAKEN[what]} ${value}. Hace falta un identificador nuevo.`,
    closed: () => 'El trabajo está cerrado. Ábralo de nuevo primero.',
    coatRunning: () => 'Hay una mano en curso. Termínela primero.',
    wrongStep: ({ limit }, f) => `No está en ese paso. Sigue: ${next(limit, f)}.`,
    windowShut: ({ limit, why, opensBy }, { ago }, clearsAt) =>
      why !== undefined
        ? UNDER[why]
        : `La ventana de repintado se cerró hace ${ago(limit)}.${clearsAt === undefined ? ` ${OPENS[opensBy ?? 'unsaid']}` : ''}`,
    lookFirst: () => 'Mire primero: la siguiente mano se da cuando está mate.',
    ...room,
    panelUnknown: ({ value }) => `El panel ${value} aún no se conoce. Lo que se dijo de él espera.`,
    jobUnknown: ({ value }) => `El trabajo ${value} aún no se conoce. Lo que se dijo de él espera.`,
    cupUnknown: ({ value }) =>
      `Aquí no existe el vaso ${value}. Escanee su etiqueta o mézclelo primero.`,
    cupEmptied: ({ limit, value }, { ago }) =>
      limit === null
        ? `El vaso ${value} se vació.`
        : `El vaso ${value} se vació hace ${ago(limit)}.`,
    wrongProduct: ({ limit, value, held }, { name }) =>
      `Necesita ${name(limit ?? '')}; ${held ? 'la pistola' : 'el vaso'} tiene ${value}.`,
    wrongColour: ({ limit, value, held }) =>
      `Necesita el color ${limit}; ${held ? 'la pistola' : 'el vaso'} tiene ${value}.`,
    inductionNotOver: () => 'La mezcla debe reposar aún.',
    potLifeOver: ({ limit, about }, { ago }) =>
      `La vida útil del vaso ${about} terminó hace ${ago(limit)}.`,
    gunHolds: ({ about, held: { name, colour, isOver } }) =>
      `La pistola ${about} tiene ${name}${colour === null ? '' : ` en ${colour}`}${isOver ? ', pasado de su vida útil' : ''}. Límpiela primero.`,
    gunEmpty: ({ about }) => `La pistola ${about} está vacía: no hay nada que devolver.`,
    airOutside: ({ limit, value }, f) =>
      `El aire está a ${f.temperature(value.airC)} y ${f.humidity(value.rh)}; la ficha admite ${airLimits(limit, f)}.`,
    dewPoint: ({ limit, value, why }, { degrees }) =>
      `${why === 'air' ? 'El aire mismo' : 'La superficie'} está ${degrees(value)} sobre el punto de rocío; lo mínimo son ${degrees(limit)}.`,
    noPerson: ({ limit }) =>
      limit.length === 0
        ? 'Diga primero quién pinta.'
        : `Diga primero quién pinta: ${limit.join(', ')}.`,
    keepOver: ({ limit, about }, { ago }) =>
      `El vaso ${about} pasó hace ${ago(limit)} su fecha límite.`,
    tooManyCoats: ({ limit, value }) =>
      `Lleva ${value} manos de este paso; la ficha admite ${limit}.`,
    tooFewCoats: ({ limit, value }) =>
      `Lleva ${value} manos de este paso; hacen falta ${limit} al menos.`,
    nothingThere: () => 'No hay ninguna mano terminada que mirar.',
    noRoom: ({ limit, value, about }, { volume }) =>
      `El vaso ${about} tiene ${volume(limit)}; no se pueden sacar ${volume(value)}.`,
    coatsMissing: ({ limit }, f) => `Faltan manos: ${names(limit, f)}.`,
    noSuchCure: ({ limit, value }, f) =>
      `La ficha no da curado por ${f.name(value)}. ${limit === '' ? 'No da ninguno.' : `Da: ${names(limit, f)}.`}`,
    curing: () => 'Ya se está curando.',
    notCuring: () => 'No se está curando.',
    cureNotOver: () => 'Aún no está curado.',
    stepsLeft: ({ limit }, f) => `Quedan pasos por hacer: ${names(limit, f)}.`,
    routeInUse: ({ limit, value }, f) =>
      `Hay trabajo hecho en el paso ${value + 1}${limit === null ? '' : `, ${f.name(limit)}`}: debe quedar como está.`,
    deviationsOpen: ({ limit, value }) =>
      `Nadie ha decidido sobre ${value === 1 ? 'un límite rebasado' : `${value} límites rebasados`}${limit === '' ? '' : `: ${limit}`}. En Historial, RASTREAR UN DEFECTO, se ve cuáles son.`,
    panelsOpen: ({ limit }) => `No todos los paneles están aprobados: ${limit}.`,
    jobState: (p) => `El trabajo está ${stateOf(p.value)}; debe estar ${stateOf(p.limit)}.`,
    bellNotDue: ({ limit, value }) => `El timbre ${value} no está pendiente. ${NOT_DUE[limit]}`,
    snoozeNotAllowed: ({ limit }) =>
      limit === null
        ? 'Este timbre ya se aplazó dos veces.'
        : limit === 0
          ? 'Este timbre no se puede aplazar.'
          : `Este timbre se puede aplazar ${limit} min como mucho.`,
    entryInUse: ({ limit }, f) => notVoided(limit, f),
  },
  serverRefusals: {
    commandIdReused: ({ id }) =>
      `El identificador ${id} se usó para otro comando. Envíe aquel otra vez, o use uno nuevo.`,
    photoMissing: ({ photo }) =>
      `La imagen ${photo.slice(0, 8)} no está aquí. Envíela primero a /api/photos y después este comando otra vez.`,
    newerLog: () =>
      'El registro tiene entradas de una versión más nueva de este programa. Actualice el servidor para seguir; todo se puede leer todavía.',
  },
  server: {
    crossSite: () => 'Otro sitio envió esto. Use las páginas de este servidor.',
    unknownHost: ({ host, hosts }) =>
      `Este servidor no responde al nombre ${host}. Use ${hosts.join(', ')}.`,
    notFound: ({ what, name }) =>
      what === 'path' ? `No hay nada en ${name}.` : `Aquí no existe ${WHAT[what]} ${name}.`,
    wrongMethod: ({ method, allow }) => `${method} no sirve aquí. Use ${allow}.`,
    fault: ({ isNothingRecorded }) =>
      `El servidor falló por un error de su programa. ${isNothingRecorded ? 'No se registró nada de este comando. ' : ''}Avise.`,
    notStarted: ({ trouble: { code, params } }, figures) =>
      `El taller de práctica no arrancó. ${(keeping.start[code] as (p: object, f: Figures) => string)(params, figures)}`,
    notStored: ({ reason }) => `No se registró nada; envíelo otra vez.${reasonIs(reason)}`,
    photoNotStored: () => 'No se pudo guardar la foto; envíela otra vez. ¿Está lleno el disco?',
    noBackup: ({ trouble }, figures) => backupSaid(trouble, figures),
    noSchedule: () => 'Primero elija una carpeta para los respaldos.',
    stopping: () => 'El servidor se está apagando.',
    unreadable: ({ reason }) => `No se pudo leer el registro.${reasonIs(reason)}`,
  },
  ...keeping,
  doubts: {
    behindLog:
      'El reloj de la computadora del servidor estaba atrasado respecto a la última entrada al arrancar.',
    unset: 'El reloj de la computadora del servidor no estaba puesto al arrancar.',
    longSince: 'El servidor arrancó mucho después de la última entrada.',
    jumped: 'El reloj de la computadora del servidor saltó más de cinco minutos.',
  },
  health: {
    clock: (shop, computer) =>
      `La hora del taller es ${shop}; el reloj de la computadora marca ${computer}. Confirme la hora en una terminal.`,
    log: 'Detenga el servidor y restaure el respaldo más reciente, o siga y descarte este aviso en una terminal.',
    noBackup: 'No hay respaldos programados. Prográmelos en una terminal: Ajustes, Respaldo.',
  },
}
