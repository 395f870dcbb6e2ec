import { es as said } from '../../machines/words/es.ts'
import { es as bench } from './bench.es.ts'
import { es as handsfree } from './handsfree.es.ts'
import { es as jobs } from './jobs.es.ts'
import { notKnown, server } from './notices.es.ts'
import type { en } from './rest.ts'

/** Las demás palabras que comparten varias pantallas, en el español de México. */
export const es: typeof en = {
  bench,
  handsfree,
  jobs,
  notKnown,
  reasons: {
    WAITED_FOR_BOOTH: 'esperaba la cabina',
    BREAK: 'pausa',
    EQUIPMENT: 'equipo',
    WRONG_MIX: 'mezcla equivocada',
    CLIMATE: 'clima',
    CUSTOMER_CHANGE: 'cambio del cliente',
    DELIBERATE_TECHNIQUE: 'técnica intencional',
    UNKNOWN: 'desconocido',
  },
  said,
  server,
}
