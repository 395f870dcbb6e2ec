import type { stage as en } from './stages.en.ts'

export const stage: typeof en = {
  prep: 'preparación',
  'adhesion-promoter': 'promotor',
  primer: 'primer',
  sealer: 'sellador',
  blender: 'difuminador',
  base: 'base',
  midcoat: 'intermedia',
  clear: 'transparente',
  'single-stage': 'monocapa',
  cure: 'curado',
  sand: 'lijado',
  polish: 'pulido',
}
