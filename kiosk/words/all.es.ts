import type { Words } from './en.ts'
import { es as first } from './es.ts'
import { es as rest } from './rest.es.ts'

/** Todas las palabras de la terminal, en el español de México. */
export const es: Words = { ...first, ...rest }
