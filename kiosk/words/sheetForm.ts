/** Words of the form of a sheet in steps, and of the page that shows all of a saved one. */

export const en = {
  steps: {
    product: 'Product',
    times: 'Times',
    heat: 'Heat',
    coats: 'Coats, hazards',
    check: 'Check',
  },
  next: 'NEXT',
  ratio: 'Ratio, such as 2:1 or 4:1+10%',
  parts: 'Names, roles, densities of the parts',
  roles: { base: 'base', activator: 'activator', reducer: 'reducer', tint: 'tint' },
  otherRole: 'other',
  otherRoleAsks: 'Role',
  oneIsEnough: (temperature: string) =>
    `Type each time as the sheet prints it. Most sheets print it at ${temperature}. One time is enough: Flashbell works out the others. Touch “+ temperature” only where the sheet prints a second one.`,
  noHeat: 'Leave out what the sheet does not have.',
  signals: { DANGER: 'DANGER', WARNING: 'WARNING', none: 'none' },
  pictograms: {
    flame: 'flame',
    exclamation: 'exclamation mark',
    health: 'health hazard',
    corrosion: 'corrosion',
    environment: 'environment',
  },
  phrases: [
    'FLAMMABLE',
    'ISOCYANATE: RESPIRATORY SENSITIZER',
    'SKIN SENSITIZER',
    'EYE IRRITANT',
    'VAPORS CAUSE DROWSINESS',
    'HARMS ORGANS',
  ],
  ownPhrase: 'Words on the label, as on the can',
  notYet: (n: number) =>
    n === 1 ? 'One field is still open or wrong:' : `${n} fields are still open or wrong:`,
  looksRight: 'Compare it with the maker’s paper, line by line. Then save.',
  all: 'All that is saved',
  notKnown: 'NOT KNOWN: asked for before its first use',
  heatFlashWhy:
    'How long the last coat waits before a bake or a lamp, as the maker’s sheet prints it. Where the sheet says no wait, choose “none”. Left out is not none: a wet film boils in heat.',
  beforeBake: 'Before a bake',
  beforeInfrared: 'Before infrared',
  heatFlashEnter: 'ENTER FLASH BEFORE HEAT',
  hazardsMissing: 'HAZARD DATA MISSING – TREAT AS DANGER',
  hazardsWhy: 'Type them from the safety data sheet: labels of this product say DANGER until then.',
  at: (minutes: string, temperature: string) => `${minutes} min at ${temperature}`,
}

export const es: typeof en = {
  steps: {
    product: 'Producto',
    times: 'Tiempos',
    heat: 'Calor',
    coats: 'Manos, peligros',
    check: 'Revisar',
  },
  next: 'SIGUIENTE',
  ratio: 'Proporción, como 2:1 o 4:1+10%',
  parts: 'Nombres, funciones y densidades de las partes',
  roles: { base: 'base', activator: 'catalizador', reducer: 'reductor', tint: 'tinte' },
  otherRole: 'otra',
  otherRoleAsks: 'Función',
  oneIsEnough: (temperature) =>
    `Escriba cada tiempo como está en la ficha. La mayoría lo da a ${temperature}. Basta uno: Flashbell calcula los demás. Toque “+ temperatura” solo si la ficha da un segundo tiempo.`,
  noHeat: 'Omita lo que la ficha no tiene.',
  signals: { DANGER: 'PELIGRO', WARNING: 'ATENCIÓN', none: 'ninguna' },
  pictograms: {
    flame: 'llama',
    exclamation: 'signo de exclamación',
    health: 'peligro para la salud',
    corrosion: 'corrosión',
    environment: 'medio ambiente',
  },
  phrases: [
    'INFLAMABLE',
    'ISOCIANATO: SENSIBILIZANTE RESPIRATORIO',
    'SENSIBILIZANTE DE LA PIEL',
    'IRRITA LOS OJOS',
    'SUS VAPORES DAN SUEÑO',
    'DAÑA ÓRGANOS',
  ],
  ownPhrase: 'Palabras en la etiqueta, como en la lata',
  notYet: (n) => (n === 1 ? 'Falta o está mal un campo:' : `Faltan o están mal ${n} campos:`),
  looksRight: 'Compárela con el papel del fabricante, línea por línea. Después guarde.',
  all: 'Todo lo guardado',
  notKnown: 'NO SE SABE: se pide antes del primer uso',
  heatFlashWhy:
    'Cuánto espera la última mano antes del horno o la lámpara, como está en la ficha del fabricante. Si la ficha dice que no hay espera, elija “ninguna”. Vacío no es ninguna: una película húmeda hierve con el calor.',
  beforeBake: 'Antes del horno',
  beforeInfrared: 'Antes del infrarrojo',
  heatFlashEnter: 'ESCRIBIR EVAPORACIÓN ANTES DEL CALOR',
  hazardsMissing: 'FALTAN DATOS DE PELIGRO – TRATAR COMO PELIGRO',
  hazardsWhy:
    'Escríbalos de la hoja de seguridad: hasta entonces las etiquetas de este producto dicen PELIGRO.',
  at: (minutes, temperature) => `${minutes} min a ${temperature}`,
}
