import type { en } from './lane.ts'

export const es: typeof en = {
  work: {
    degrease: 'desengrasar',
    fill: 'enmasillar',
    isolate: 'aislar',
    guideCoat: 'guía de lijado',
    abrade: 'lijar',
    tack: 'pasar trapo atrapapolvo',
    mask: 'enmascarar',
    unmask: 'desenmascarar',
    purge: 'purgar la cabina',
  },
}
