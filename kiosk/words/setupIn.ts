import type { Words } from './en.ts'
import { es } from './setup.es.ts'
import { en } from './setup.ts'

/** The words of Setup and of every form in the language of the others: fetched with the screens that show them. */
export const setupIn = ({ locale }: Pick<Words, 'locale'>): typeof en => (locale === 'es' ? es : en)
