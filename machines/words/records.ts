import type { RecordWords } from '../records/table.ts'
import { jurisdictions } from '../trade/vocLimits.ts'
import * as names from './names.en.ts'
import * as nombres from './names.es.ts'
import { stage as stageEn } from './stages.en.ts'
import { stage as stageEs } from './stages.es.ts'

/** What a jurisdiction and its limits are called. */
type Place = {
  readonly name: string
  readonly basis: string
  /** How well its limits are known: stands wherever they are shown. */
  readonly knowledge: string
}

/** Words of the records. */
export type OwnRecordWords = RecordWords & {
  /** By the id of a jurisdiction. */
  readonly places: Readonly<Record<string, Place>>
  readonly title: string
  readonly fromTo: (from: string, to: string) => string
  /** Stands on every page: what these figures are not. */
  readonly notCompliance: string
  readonly limitsFrom: string
}

/** A name of a table; a word that it does not have stands as it is. */
const named = (table: Readonly<Record<string, string>>) => (word: string) => table[word] ?? word

const categoriesEn = {
  'wash-primer': 'wash primer',
  primer: 'primer and surfacer',
  sealer: 'sealer',
  topcoat: 'topcoat',
  'topcoat-stages': 'topcoat of more than two stages',
  'multi-coloured': 'multi-color topcoat',
  specialty: 'specialty coating',
  preparatory: 'preparatory',
  'pre-cleaner': 'pre-cleaner',
  filler: 'body filler',
}

export const en: OwnRecordWords = {
  stage: named({ ...stageEn, unknown: 'stage not known' }),
  code: named(names.codes),
  type: named(names.events),
  category: named(categoriesEn),
  places: Object.fromEntries(
    jurisdictions.map(({ id, name, basis, knowledgeSentence }) => [
      id,
      { name, basis, knowledge: knowledgeSentence },
    ]),
  ),
  title: 'Paint records',
  fromTo: (from, to) => `${from} to ${to}`,
  notCompliance:
    'Figures from this shop’s own entries. They are no statement that any rule is met: check the limits, the maker’s sheets and your permit.',
  limitsFrom: 'Limits',
  sections: {
    material: 'Material mixed, by product and category',
    stages: 'VOC of each job’s topcoat, averaged over its stages (clear counts twice)',
    cups: 'VOC of each cup as mixed',
    solvent: 'Cleaning solvent',
    training: 'Training (again within five years)',
    filters: 'Filters',
    coats: 'Coats',
    outside: 'Deviations: outside a limit',
    overrides: 'Overrides',
    notJudged: 'Not judged, for nothing was measured',
    voids: 'Taken back',
    bells: 'Bells',
  },
  columns: ['section', 'name', 'value', 'unit', 'note'],
  none: 'nothing recorded',
  total: 'All products',
  noWeight: (liters) => `no density typed for ${liters} L: the weight is short by that`,
  noCategory: 'category not known',
  cups: (n) => (n === 1 ? '1 cup' : `${n} cups`),
  forJobs: (jobs) => `for the jobs ${jobs}`,
  added: 'Additives',
  addedNote: 'no density is known: not in the weights and not in the VOC',
  discarded: 'Thrown away with the cup',
  notSaid: (n, of) => `no amount typed for ${n} of ${of}`,
  limit: (gPerL) => `limit ${gPerL} g/L`,
  over: 'OVER',
  within: 'within',
  why: {
    sheetUnknown: 'sheet not known',
    figuresMissing: 'not calculated: a density or share of volatiles is missing on the sheet',
    categoryUnknown: 'not judged: no limit for this category',
    inAverage: 'counts in the average of its job',
    stageMissing: 'no average: base or clear was not mixed for this job in this time',
  },
  cleanings: 'Gun cleanings',
  times: (n) => (n === 1 ? 'once' : `${n} times`),
  due: { ok: 'in time', soon: 'DUE WITHIN 60 DAYS', over: 'OVERDUE', notRecorded: 'not recorded' },
  dueOn: (date) => `due ${date}`,
  doneOn: (date) => `done ${date}`,
  filterWork: { changed: 'changed', checked: 'checked', document: 'paper about efficiency' },
  efficiencyLow: 'under 98 %',
  bells: {
    rang: 'Rang',
    perPeriod: 'In ten minutes, on average',
    peak: 'Most in ten minutes',
    flood: 'Of all ten minutes, floods',
    median: 'Until acknowledged, median',
    p95: 'Until acknowledged, 95 of 100 within',
    never: 'Never acknowledged',
    prompt: 'Share of prompts',
    medium: 'Share of medium alarms',
    high: 'Share of urgent alarms',
  },
}

export const es: OwnRecordWords = {
  stage: named({ ...stageEs, unknown: 'etapa desconocida' }),
  code: named(nombres.codes),
  type: named(nombres.events),
  category: named({
    'wash-primer': 'primer reactivo',
    primer: 'primer y relleno',
    sealer: 'sellador',
    topcoat: 'acabado',
    'topcoat-stages': 'acabado de más de dos etapas',
    'multi-coloured': 'acabado multicolor',
    specialty: 'recubrimientos especiales',
    preparatory: 'preparación',
    'pre-cleaner': 'prelimpieza',
    filler: 'masilla',
  }),
  places: {
    'us-federal': {
      name: 'Estados Unidos, federal',
      basis: 'g de COV por litro listo para aplicar, sin agua ni solventes exentos',
      knowledge:
        'Estos límites no se leyeron en la norma misma. En libras por galón son los de la tabla de un estado con las mismas categorías (6 NYCRR 228-1.4, tabla A): revíselos en la tabla oficial antes de confiar en ellos. Estados y distritos pueden ser más estrictos.',
    },
    eu: {
      name: 'Unión Europea',
      basis:
        'g de COV por litro listo para usar, sin agua salvo para preparar y limpiar; la directiva no conoce solventes exentos y no cuenta lo que reacciona en la película',
      knowledge:
        'Estos límites se leyeron en la guía de un gobierno sobre la directiva y no en la directiva misma: revíselos allí.',
    },
  },
  title: 'Registros de pintura',
  fromTo: (from, to) => `${from} a ${to}`,
  notCompliance:
    'Cifras de las entradas de este taller. No afirman que se cumpla ninguna norma: revise los límites, las fichas del fabricante y su permiso.',
  limitsFrom: 'Límites',
  sections: {
    material: 'Material mezclado, por producto y categoría',
    stages:
      'COV del acabado de cada trabajo, promedio de sus etapas (el transparente cuenta doble)',
    cups: 'COV de cada vaso como se mezcló',
    solvent: 'Solvente de limpieza',
    training: 'Capacitación (otra vez antes de cinco años)',
    filters: 'Filtros',
    coats: 'Manos',
    outside: 'Desviaciones: fuera de un límite',
    overrides: 'Límites forzados',
    notJudged: 'No juzgado, porque no se midió',
    voids: 'Anulado',
    bells: 'Timbres',
  },
  columns: ['sección', 'nombre', 'valor', 'unidad', 'nota'],
  none: 'nada registrado',
  total: 'Todos los productos',
  noWeight: (liters) => `sin densidad para ${liters} L: falta ese peso`,
  noCategory: 'categoría desconocida',
  cups: (n) => (n === 1 ? '1 vaso' : `${n} vasos`),
  forJobs: (jobs) => `para los trabajos ${jobs}`,
  added: 'Aditivos',
  addedNote: 'sin densidad conocida: no están en los pesos ni en los COV',
  discarded: 'Tirado con el vaso',
  notSaid: (n, of) => `sin cantidad escrita en ${n} de ${of}`,
  limit: (gPerL) => `límite ${gPerL} g/L`,
  over: 'EXCEDE',
  within: 'dentro',
  why: {
    sheetUnknown: 'ficha desconocida',
    figuresMissing: 'sin calcular: falta una densidad o la parte volátil en la ficha',
    categoryUnknown: 'no juzgado: sin límite para esta categoría',
    inAverage: 'cuenta en el promedio de su trabajo',
    stageMissing: 'sin promedio: no se mezcló base o transparente para este trabajo en este tiempo',
  },
  cleanings: 'Limpiezas de pistola',
  times: (n) => (n === 1 ? 'una vez' : `${n} veces`),
  due: {
    ok: 'al día',
    soon: 'VENCE EN 60 DÍAS O MENOS',
    over: 'VENCIDO',
    notRecorded: 'no registrado',
  },
  dueOn: (date) => `vence ${date}`,
  doneOn: (date) => `hecho ${date}`,
  filterWork: { changed: 'cambiados', checked: 'revisados', document: 'papel de eficiencia' },
  efficiencyLow: 'menos de 98 %',
  bells: {
    rang: 'Sonaron',
    perPeriod: 'En diez minutos, en promedio',
    peak: 'Más en diez minutos',
    flood: 'De todos los diez minutos, avalanchas',
    median: 'Hasta atender, mediana',
    p95: 'Hasta atender, 95 de 100 en',
    never: 'Nunca atendidos',
    prompt: 'Parte de avisos',
    medium: 'Parte de alarmas medias',
    high: 'Parte de alarmas urgentes',
  },
}
