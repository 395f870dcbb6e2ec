import { es as said } from '../../machines/words/es.ts'
import { es as bench } from './bench.es.ts'
import { es as handsfree } from './handsfree.es.ts'
import { es as jobs } from './jobs.es.ts'
import { notKnown, server } from './notices.es.ts'
import type { en } from './rest.ts'

/** Las demás palabras que comparten varias pantallas, en el español de México. */
export const es: typeof en = {
  bench,
  cautions: {
    sample: 'Ficha de MUESTRA: sus datos son inventados. Revíselos con la ficha del fabricante.',
    isocyanate:
      'Isocianatos: mantenga puesta la máscara con aire hasta que la cabina se despeje. Cubra manos y ojos.',
    solvent:
      'Solvente: sin llamas. Aterrice las latas. No amontone trapos. Nada eléctrico en la cabina.',
    first: 'Primero van la ficha del fabricante, la hoja de seguridad y la ley.',
    bake: 'El calor enciende los vapores de solvente: nada fresco, ni latas abiertas ni trapos cerca. Antes de hornear revise el límite de calor del vehículo (su batería).',
    dust: 'Use la mascarilla para polvo: el polvo de manos frescas puede tener isocianatos.',
  },
  handsfree,
  jobs,
  notKnown,
  who: {
    title: '¿Quién está en esta terminal?',
    hint: 'Lo que se presione aquí se registra con este nombre.',
    nobody: 'Nadie',
    roles: { painter: 'pintor', prepper: 'preparador', lead: 'jefe' },
  },
  range: {
    say: 'MARGEN DEL DÍA',
    holds: (range, time) => `Se toma ${range} como aire hasta ${time}.`,
  },
  wipe: 'Limpiar la pantalla',
  /** What waits on a device, or is in no log. */
  unsent: {
    tryAgain: 'REINTENTAR',
    discard: 'DESECHAR',
    hint: 'Lo que el servidor no conoce se queda en este dispositivo. Quien lleva el servidor puede enviarlo después desde un archivo.',
    save: (n) => (n === 1 ? 'GUARDAR EN UN ARCHIVO' : `GUARDAR ${n} EN UN ARCHIVO`),
  },
  operation: {
    'new-part': 'pieza nueva',
    repair: 'reparación',
    blend: 'difuminado',
    'clear-only': 'solo transparente',
  },
  pads: {
    red: 'fibra roja',
    gray: 'fibra gris',
    ultrafine: 'fibra ultrafina',
    paste: 'pasta abrasiva',
  },
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
