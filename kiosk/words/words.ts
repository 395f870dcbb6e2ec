import { en, type Words } from './en.ts'
import { es } from './es.ts'

/** The words of a language; English where the shop has set none. */
export const wordsIn = (language: string | undefined): Words => (language === 'es' ? es : en)
