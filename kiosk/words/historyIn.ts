import type { Words } from './en.ts'
import { es } from './history.es.ts'
import { en } from './history.ts'

/** The words of a job's history in the language of the others: fetched with the screens that show it. */
export const historyIn = ({ locale }: Pick<Words, 'locale'>): typeof en =>
  locale === 'es' ? es : en
