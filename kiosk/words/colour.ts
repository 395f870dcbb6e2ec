/** Words of the color check and of the blend plan, in both languages: fetched with their places. */

type Names = Readonly<Record<string, string>>

export const en = {
  title: 'Color check',
  none: 'No card was measured yet.',
  noneHint:
    'Spray a card from the cup, let it dry with its clear, and measure it beside the panel at each angle.',
  noLevels: 'This shop has no levels yet: the figures have no verdict.',
  setLevels: 'SET THE LEVELS',
  measure: 'MEASURE A CARD',
  save: 'SAVE THE CARD',
  alike:
    'Measure both with the same instrument, angles and light. A card in hand, beside the vehicle, has the last word.',
  fields: {
    colour: 'Color',
    card: 'Card (write it on its back)',
    variant: 'Variant',
    tint: 'Tint, as on its cup',
    midcoats: 'Midcoats, on a let-down panel',
    angles: 'Angles',
    'angles.+': 'Another angle',
    deg: 'Angle',
    panel: 'Panel: L*, a*, b*',
    card3: 'Card: L*, a*, b*',
  } as Names,
  row: {
    panel: ['Panel L*', 'Panel a*', 'Panel b*'],
    card: ['Card L*', 'Card a*', 'Card b*'],
  },
  chart: (colour: string) => `Cards of ${colour} by angle, difference from the panel (ΔE00)`,
  scale: 'ΔE00',
  angle: (deg: string) => `${deg}°`,
  match: 'match',
  blend: 'blend',
  verdicts: { match: 'MATCH', blendable: 'BLENDABLE', retint: 'TINT AGAIN' },
  worst: (de: string, deg: string) => `at most ${de}, at ${deg}°`,
  cardName: (card: string) => `Card ${card}`,
  tintOf: (tint: string) => `tint ${tint}`,
  variantOf: (variant: string) => `variant ${variant}`,
  midcoatsOf: (n: number) => (n === 1 ? '1 midcoat' : `${n} midcoats`),
  choose: 'SPRAY BY THIS CARD',
  chooseSets: (n: number) => `sets ${n === 1 ? '1 midcoat' : `${n} midcoats`} on every panel`,
  chosen: 'CHOSEN',
  blends: 'Neighbors',
  noBlends: 'Nothing is decided yet. Neighbors are proposed where panels are added.',
  toPanels: 'PANELS OF THIS JOB',
  blended: 'blend',
  leftOut: 'left out',
  plan: 'Next to full color: blend these too?',
  planWhy:
    'Common practice, and a rough guess in cm. Hold a card against the neighbor; the maker’s sheet comes first.',
  kindAsk: 'What kind of color is it?',
  kinds: {
    solid: 'solid',
    metallic: 'metallic',
    pearl: 'pearl',
    'three-stage': 'three-stage',
  } as Names,
  kindGuess: 'Not given with the color: planned as a metallic.',
  beside: (names: string) => `beside ${names}`,
  ifSeen: 'only if the card shows a difference',
  layers: { base: 'Base', ground: 'Ground coat', midcoat: 'Midcoat' },
  reach: (layer: string, share: string, cm: string, line: boolean) =>
    line
      ? `${layer}: ${share} of it, about ${cm}, fading out at a body line`
      : `${layer}: all of it, to its edge`,
  clear: 'Clear: the whole panel, edge to edge',
  clearTo: (names: string) =>
    `Clear: the whole panel; toward ${names} to a body line, no edge is there`,
  clearOfOwn: (panel: string, names: string) =>
    `${panel}: its clear has no edge toward ${names}. End it at a body line, or clear that too.`,
  cutIn: (names: string) =>
    `Off the vehicle: cut in the edges and inner faces first, then hang ${names}.`,
  take: 'BLEND',
  leave: 'LEAVE OUT',
  why: (panel: string) => `Why is ${panel} left out?`,
  whys: ['the card matches', 'trim or a gap hides it', 'not asked for', 'another job does it'],
  otherWhy: 'In a few words',
  leaveWith: 'LEAVE OUT',
  cancel: 'Cancel',
  because: (why: string) => `Left out: ${why}`,
  off: 'Where is it painted?',
  offs: { on: 'on the vehicle', off: 'off: edges first' } as Names,
}

export const es: typeof en = {
  title: 'Revisión de color',
  none: 'Aún no se midió ninguna muestra.',
  noneHint:
    'Rocíe una muestra del vaso, déjela secar con su transparente y mídala junto al panel en cada ángulo.',
  noLevels: 'Este taller aún no tiene niveles: las cifras están sin veredicto.',
  setLevels: 'PONER LOS NIVELES',
  measure: 'MEDIR UNA MUESTRA',
  save: 'GUARDAR LA MUESTRA',
  alike:
    'Mida ambas con el mismo instrumento, ángulos y luz. La última palabra es de la muestra en la mano, junto al vehículo.',
  fields: {
    colour: 'Color',
    card: 'Muestra (escríbalo atrás)',
    variant: 'Variante',
    tint: 'Entintado, como en su vaso',
    midcoats: 'Manos intermedias, de un panel escalonado',
    angles: 'Ángulos',
    'angles.+': 'Otro ángulo',
    deg: 'Ángulo',
    panel: 'Panel: L*, a*, b*',
    card3: 'Muestra: L*, a*, b*',
  },
  row: {
    panel: ['Panel L*', 'Panel a*', 'Panel b*'],
    card: ['Muestra L*', 'Muestra a*', 'Muestra b*'],
  },
  chart: (colour) => `Muestras de ${colour} por ángulo, diferencia con el panel (ΔE00)`,
  scale: 'ΔE00',
  angle: (deg) => `${deg}°`,
  match: 'igual',
  blend: 'difuminar',
  verdicts: { match: 'IGUALA', blendable: 'SE DIFUMINA', retint: 'ENTINTAR OTRA VEZ' },
  worst: (de, deg) => `a lo más ${de}, a ${deg}°`,
  cardName: (card) => `Muestra ${card}`,
  tintOf: (tint) => `entintado ${tint}`,
  variantOf: (variant) => `variante ${variant}`,
  midcoatsOf: (n) => (n === 1 ? '1 mano intermedia' : `${n} manos intermedias`),
  choose: 'PINTAR CON ESTA MUESTRA',
  chooseSets: (n) =>
    `pone ${n === 1 ? '1 mano intermedia' : `${n} manos intermedias`} en cada panel`,
  chosen: 'ELEGIDA',
  blends: 'Paneles vecinos',
  noBlends: 'Aún no se decidió nada. Los vecinos se proponen donde se agregan paneles.',
  toPanels: 'PANELES DE ESTE TRABAJO',
  blended: 'difuminar',
  leftOut: 'se deja',
  plan: 'Junto al color completo: ¿difuminar también estas?',
  planWhy:
    'Práctica común, y un cálculo aproximado en cm. Ponga una muestra contra el vecino; la ficha del fabricante va primero.',
  kindAsk: '¿Qué tipo de color es?',
  kinds: { solid: 'liso', metallic: 'metálico', pearl: 'perla', 'three-stage': 'tricapa' },
  kindGuess: 'No se dio con el color: planeado como metálico.',
  beside: (names) => `junto a ${names}`,
  ifSeen: 'solo si la muestra se ve distinta',
  layers: { base: 'Base', ground: 'Base de fondo', midcoat: 'Capa intermedia' },
  reach: (layer, share, cm, line) =>
    line
      ? `${layer}: ${share} de ella, unos ${cm}, hasta perderse en una línea de carrocería`
      : `${layer}: toda, hasta su canto`,
  clear: 'Transparente: todo el panel, de canto a canto',
  clearTo: (names) =>
    `Transparente: todo el panel; hacia ${names} hasta una línea de carrocería, ahí no hay canto`,
  clearOfOwn: (panel, names) =>
    `${panel}: su transparente no tiene canto hacia ${names}. Termínelo en una línea de carrocería, o aplíquelo ahí también.`,
  cutIn: (names) =>
    `Fuera del vehículo: pinte primero los cantos y las caras internas, luego monte ${names}.`,
  take: 'DIFUMINAR',
  leave: 'DEJARLA',
  why: (panel) => `¿Por qué se deja ${panel}?`,
  whys: [
    'la muestra iguala',
    'la tapa una moldura o un hueco',
    'no se pidió',
    'se hace en otro trabajo',
  ],
  otherWhy: 'En pocas palabras',
  leaveWith: 'DEJARLA',
  cancel: 'Cancelar',
  because: (why) => `Se deja: ${why}`,
  off: '¿Dónde se pinta?',
  offs: { on: 'en el vehículo', off: 'fuera: cantos primero' },
}

/**
 * Why a neighbor was left out, in another language than that of the kiosk where it was touched.
 * @param why as it was kept: one of the reasons in either language, or own words, which stay as they are
 */
export function whyIn(locale: string, why: string): string {
  const at = Math.max(en.whys.indexOf(why), es.whys.indexOf(why))
  return (locale === 'en' ? en : es).whys[at] ?? why
}
