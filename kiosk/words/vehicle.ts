/** Bodies and their panels. `short` is written on the drawing, which shows the side. */

type PanelName = { readonly short: string; readonly full: string; readonly isMasculine?: boolean }
type Side = 'left' | 'right'

/** A name that is the same alone and with its side. */
export const both = (full: string, isMasculine = false): PanelName => ({
  short: full,
  full,
  isMasculine,
})

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
