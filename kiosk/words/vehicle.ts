/** Bodies and their panels. `short` stands in the drawing, where the side is seen. */

type PanelName = { readonly short: string; readonly full: string; readonly isMasculine?: boolean }
type Side = 'left' | 'right'

const both = (full: string, isMasculine = false): PanelName => ({ short: full, full, isMasculine })

export const en = {
  bodies: { car: 'Car', van: 'Van', 'pick-up': 'Pick-up' } as Record<string, string>,
  loose: 'Loose parts',
  front: 'front',
  sides: { left: 'left side', right: 'right side' },
  sided: (name: string, side: Side, _isMasculine?: boolean) =>
    `${side === 'left' ? 'Left' : 'Right'} ${name.charAt(0).toLowerCase()}${name.slice(1)}`,
  panels: {
    hood: both('Hood'),
    roof: both('Roof'),
    'trunk-lid': both('Trunk lid'),
    tailgate: both('Tailgate'),
    'front-bumper': both('Front bumper'),
    'rear-bumper': both('Rear bumper'),
    'front-fender': both('Front fender'),
    'front-door': both('Front door'),
    'rear-door': both('Rear door'),
    'side-door': { short: 'Side door', full: 'Side door or panel' },
    'rear-side': { short: 'Rear side', full: 'Rear side panel' },
    'quarter-panel': both('Quarter panel'),
    'cab-corner': both('Cab corner'),
    'bed-side': both('Bed side'),
    rocker: both('Rocker'),
    mirror: both('Mirror'),
  } as Record<string, PanelName>,
}

export const es: typeof en = {
  bodies: { car: 'Turismo', van: 'Furgoneta', 'pick-up': 'Camioneta' },
  loose: 'Piezas sueltas',
  front: 'delante',
  sides: { left: 'lado izquierdo', right: 'lado derecho' },
  sided: (name, side, isMasculine) => {
    const word = side === 'left' ? 'izquierd' : 'derech'
    return `${name} ${word}${isMasculine ? 'o' : 'a'}`
  },
  panels: {
    hood: both('Capó'),
    roof: both('Techo'),
    'trunk-lid': both('Portón'),
    tailgate: both('Portón'),
    'front-bumper': { short: 'Paragolpes', full: 'Paragolpes delantero' },
    'rear-bumper': { short: 'Paragolpes', full: 'Paragolpes trasero' },
    'front-fender': { short: 'Aleta', full: 'Aleta delantera' },
    'front-door': { short: 'Puerta del.', full: 'Puerta delantera' },
    'rear-door': { short: 'Puerta tras.', full: 'Puerta trasera' },
    'side-door': { short: 'Puerta lat.', full: 'Puerta o panel lateral' },
    'rear-side': { short: 'Lateral tras.', full: 'Lateral trasero', isMasculine: true },
    'quarter-panel': { short: 'Aleta tras.', full: 'Aleta trasera' },
    'cab-corner': { short: 'Esquina', full: 'Esquina de cabina' },
    'bed-side': { short: 'Caja', full: 'Lateral de la caja', isMasculine: true },
    rocker: { short: 'Estribo', full: 'Estribo', isMasculine: true },
    mirror: { short: 'Espejo', full: 'Espejo', isMasculine: true },
  },
}
