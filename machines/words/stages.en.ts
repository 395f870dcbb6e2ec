import type { Stage } from '../sheet/schema.ts'

/** The stages of a route, each by one name. */
export const stage: Readonly<Record<Stage, string>> = {
  prep: 'prep',
  'adhesion-promoter': 'promoter',
  primer: 'primer',
  sealer: 'sealer',
  blender: 'blender',
  base: 'base',
  midcoat: 'midcoat',
  clear: 'clear',
  'single-stage': 'single stage',
  cure: 'cure',
  sand: 'sanding',
  polish: 'polish',
}
