import { both, type en } from './vehicle.ts'

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
