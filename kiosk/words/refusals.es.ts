import type { RefusalCode } from '../../machines/refusals.ts'
import { about, type RefusalWords, type Say } from './refusals.ts'

const STATES: Readonly<Record<string, string>> = {
  open: 'abierto',
  paused: 'en pausa',
  closed: 'cerrado',
}

const spanish = {
  unknownThing: ({ value }) => `Aquí no se conoce ${value}.`,
  idTaken: ({ value }) => `${value} ya existe. Hace falta un identificador nuevo.`,
  closed: () => 'El trabajo está cerrado. Ábralo de nuevo primero.',
  coatRunning: () => 'Hay una mano en curso. Termínela primero.',
  wrongStep: ({ limit }, { names }) => {
    const next = names(limit)
    return next === null ? 'No está en ese paso.' : `No está en ese paso: sigue ${next}.`
  },
  windowShut: ({ limit, clearsAt }, { ago }) =>
    `La ventana de repintado se cerró hace ${ago(limit)}.${clearsAt === undefined ? ' Lije, o siga la ficha.' : ''}`,
  flashNotOver: ({ clearsAt }) =>
    clearsAt === undefined
      ? 'No evapora con este aire: hay demasiada humedad.'
      : 'Aún no ha evaporado.',
  lookFirst: () => 'Mire primero: la siguiente mano se da cuando está mate.',
  cupUnknown: ({ value }) => `No se conoce el vaso ${value}. Lea su etiqueta o mézclelo primero.`,
  cupEmptied: ({ limit, value }, { ago }) => `El vaso ${value} se vació hace ${ago(limit)}.`,
  wrongProduct: ({ limit, value }, { names }) =>
    `Lleva ${names(limit) ?? limit}; el vaso tiene ${value}.`,
  wrongColour: ({ limit, value }) => `Lleva el color ${limit}; el vaso tiene ${value}.`,
  inductionNotOver: () => 'La mezcla debe reposar aún.',
  potLifeOver: (p, { ago }) => `La vida útil del vaso ${about(p)} terminó hace ${ago(p.limit)}.`,
  gunHolds: (p) => `La pistola ${about(p)} tiene ${p.limit}. Límpiela primero.`,
  airOutside: ({ limit, value }, { air }) =>
    `El aire está a ${air(value)}; la ficha admite ${air(limit)}.`,
  dewPoint: ({ limit, value }, { degrees }) =>
    `La superficie está ${degrees(value)} sobre el punto de rocío; lo mínimo son ${degrees(limit)}.`,
  zoneBaking: ({ value }) => `La zona ${value} está horneando. Espere a que termine.`,
  noPerson: () => 'Diga primero quién pinta.',
  keepOver: (p, { ago }) => `El vaso ${about(p)} era para guardar hasta hace ${ago(p.limit)}.`,
  tooManyCoats: ({ limit, value }) =>
    `Lleva ${value} manos de este paso; la ficha admite ${limit}.`,
  tooFewCoats: ({ limit, value }) =>
    `Lleva ${value} manos de este paso; hacen falta ${limit} al menos.`,
  nothingThere: () => 'No hay ninguna mano terminada que mirar.',
  noRoom: (p, { volume }) =>
    `El vaso ${about(p)} tiene ${volume(p.limit)}; no se pueden sacar ${volume(p.value)}.`,
  coatsMissing: ({ limit }, { names }) => `Antes faltan manos: ${names(limit) ?? limit}.`,
  noSuchCure: ({ limit, value }, { names }) =>
    `La ficha no da curado por ${names(value) ?? value}. Da: ${names(limit) ?? 'ninguno'}.`,
  curing: () => 'Ya se está curando.',
  notCuring: () => 'No se está curando.',
  cureNotOver: () => 'Aún no está curado.',
  stepsLeft: ({ limit }, { names }) => `Quedan pasos por hacer: ${names(limit) ?? limit}.`,
  routeInUse: ({ limit }, { names }) =>
    `Hay trabajo hecho en el paso ${names(limit) ?? ''}: debe quedar como está.`,
  panelsOpen: ({ limit }) => `No todos los paneles están aprobados: ${limit}.`,
  jobState: ({ limit, value }) =>
    `El trabajo está ${STATES[String(value)] ?? value}; hace falta uno ${STATES[String(limit)] ?? limit}.`,
  bellNotDue: () => 'Ese timbre no está sonando.',
  snoozeNotAllowed: () => 'Este timbre no se puede aplazar más.',
  entryInUse: () => 'No se puede deshacer: otras cosas se apoyan en ello.',
} satisfies Record<RefusalCode, Say>

export const es: RefusalWords = spanish
