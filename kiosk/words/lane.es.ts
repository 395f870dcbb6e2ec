import type { en } from './lane.ts'

export const es: typeof en = {
  before: {
    strain: (um) => `Cuélelo por ${um} µm.`,
    viscosity: (said) => `Según su ficha se aplica a ${said}.`,
    matte: 'Un acabado mate no se pule después: deje limpia la pieza antes.',
    shouldBeEmpty: 'Por lo aplicado, este vaso debería estar vacío: péselo, o siga.',
    fewMl: (left, needs) =>
      `Quedan unos ${left} en este vaso; esta pasada lleva unos ${needs}. Es una estimación.`,
    lasts: (n, of) =>
      n === 0
        ? 'Este vaso se vence antes de terminar la mano.'
        : `Este vaso alcanza para ${n} de ${of} paneles.`,
    filmOver: (name, um, most) =>
      `${name}: su película llega a ${um} µm; la ficha admite ${most} µm.`,
  },
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
  pads: {
    red: 'fibra roja',
    gray: 'fibra gris',
    ultrafine: 'fibra ultrafina',
    paste: 'pasta abrasiva',
  },
}
