import type { Words } from './en.ts'
import { es } from './trace.es.ts'
import { en } from './trace.ts'
import type { TraceWords } from './traceWords.ts'

/** The words of Trace in the language of the others: fetched with its screen. */
export const traceIn = ({ locale }: Pick<Words, 'locale'>): TraceWords =>
  locale === 'es' ? es : en
