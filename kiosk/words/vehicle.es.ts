import { both, type en } from './vehicle.ts'

export const es: typeof en = {
  bodies: { car: 'Auto', van: 'Van', 'pick-up': 'Pickup' },
  loose: 'Piezas sueltas',
  front: 'frente',
  sides: { left: 'lado izquierdo', right: 'lado derecho' },
  sided: (name, side, isMasculine) => {
    const word = side === 'left' ? 'izquierd' : 'derech'
    return `${name} ${word}${isMasculine ? 'o' : 'a'}`
  },
  panels: {
    hood: both('Cofre', true),
    roof: both('Techo', true),
    'trunk-lid': { short: 'Cajuela', full: 'Tapa de cajuela' },
    tailgate: { short: 'Tapa tras.', full: 'Tapa trasera' },
    'front-bumper': { short: 'Defensa', full: 'Defensa delantera' },
    'rear-bumper': { short: 'Defensa', full: 'Defensa trasera' },
    'front-fender': { short: 'Salpicadera', full: 'Salpicadera' },
    'front-door': { short: 'Puerta del.', full: 'Puerta delantera' },
    'rear-door': { short: 'Puerta tras.', full: 'Puerta trasera' },
    'side-door': { short: 'Puerta lat.', full: 'Puerta o panel lateral' },
    'rear-side': { short: 'Costado tras.', full: 'Costado trasero', isMasculine: true },
    'quarter-panel': { short: 'Costado', full: 'Costado', isMasculine: true },
    'cab-corner': { short: 'Esquina', full: 'Esquina de cabina' },
    'bed-side': { short: 'Caja', full: 'Costado de la caja', isMasculine: true },
    rocker: { short: 'Estribo', full: 'Estribo', isMasculine: true },
    mirror: { short: 'Espejo', full: 'Espejo', isMasculine: true },
  },
}
