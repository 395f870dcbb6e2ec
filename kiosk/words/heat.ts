import type { Words } from './en.ts'

/** Words about what stands in a zone's heat: fetched with the sheet that starts it. */
const en = {
  title: 'In the same heat',
  limit: (temp: string) => `takes ${temp} at most`,
  noLimit: 'no limit known',
  ask: 'How warm may this vehicle become? Its maker says (battery, airbags, trim).',
  is: (temp: string) => `${temp} AT MOST`,
  notKnown: 'NO LIMIT KNOWN',
  change: 'CHANGE',
  faster: (things: string) => `Their time runs faster in the heat: ${things}.`,
  isCool: (temp: string) => `MEASURED: ${temp} OR LESS`,
  partNow: 'Part measured now',
  savePart: 'SAVE READING',
  purge: (min: number) => `PURGE ${min} MIN`,
}

const es: typeof en = {
  title: 'En el mismo calor',
  limit: (temp) => `aguanta ${temp} como máximo`,
  noLimit: 'sin límite conocido',
  ask: '¿Cuánto calor aguanta este vehículo? Lo dice su fabricante (batería, bolsas de aire, molduras).',
  is: (temp) => `${temp} COMO MÁXIMO`,
  notKnown: 'LÍMITE DESCONOCIDO',
  change: 'CAMBIAR',
  faster: (things) => `Con el calor su tiempo corre más rápido: ${things}.`,
  isCool: (temp) => `MEDIDA: ${temp} O MENOS`,
  partNow: 'Pieza medida ahora',
  savePart: 'GUARDAR LECTURA',
  purge: (min) => `PURGAR ${min} MIN`,
}

export const heatIn = ({ locale }: Pick<Words, 'locale'>): typeof en => (locale === 'es' ? es : en)
