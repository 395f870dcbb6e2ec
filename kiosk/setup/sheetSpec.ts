import { SPRAYED, STAGES } from '../../machines/sheet/schema.ts'
import {
  choice,
  type Fields,
  fold,
  group,
  list,
  may,
  measured,
  need,
  number,
  points,
  text,
  yesNo,
} from '../forms/spec.ts'

/** The form of a sheet: what work cannot go without first, the rest folded away. */

const percent = measured('fraction')
const airC = measured('airTemperature')
const RECOAT = { unlimited: 'unlimited', mustSand: 'mustSand' }
const NO_POT_LIFE = { noPotLife: null }

const COMPONENT: Fields = {
  name: need(text),
  role: need(text),
  parts: need(number()),
  densityGPerMl: may(number('g/mL')),
  volatile: fold(percent),
  water: fold(percent),
  exempt: fold(percent),
}

const CURE: Fields = {
  air: may(points()),
  bake: may(
    list(
      group({
        tempC: need(measured('temperature')),
        minutes: need(number()),
        basis: need(choice('part', 'air')),
        flashBefore: may(points()),
      }),
      6,
    ),
  ),
  infrared: may(
    group({
      minutes: need(number()),
      distanceCm: may(number('cm')),
      flashBefore: may(points()),
    }),
  ),
}

const OPTION: Fields = {
  name: need(text),
  fromC: need(airC),
  toC: need(airC),
  potLife: may(points(NO_POT_LIFE)),
  flashBetween: may(points()),
  flashBeforeNext: may(points()),
  cure: fold(group(CURE)),
}

export const SHEET: Fields = {
  name: need(text),
  edition: may(text),
  stage: need(choice(...SPRAYED)),
  medium: need(choice('solvent', 'waterborne')),
  components: need(list(group(COMPONENT), 12)),
  by: need(choice('volume', 'mass')),
  potLife: need(points(NO_POT_LIFE)),
  flashBetween: need(points()),
  flashBeforeNext: need(points()),
  recoatWithin: need(points(RECOAT)),
  afterWindow: may(choice('abrade', 'abradeAndRecoat', 'reapply')),
  coats: need(group({ least: need(number()), planned: need(number()), most: need(number()) })),
  activators: may(list(group(OPTION), 12)),
  reducers: may(list(group(OPTION), 12)),
  cure: may(group(CURE)),
  limits: may(group({ minC: may(airC), maxC: may(airC), maxRh: may(measured('fraction')) })),
  hazards: may(
    group({
      signal: need(text),
      pictograms: need(list(text, 9)),
      isocyanate: need(yesNo),
      words: need(text),
    }),
  ),
  keepDays: fold(number('days')),
  induction: fold(points()),
  flashBy: fold(choice('time', 'appearance')),
  floorMin: fold(number('min')),
  rhRef: fold(measured('fraction')),
  recoatAgainAfter: fold(points()),
  over: fold(
    list(
      group({
        stage: need(choice(...STAGES)),
        flashBeforeNext: may(points()),
        recoatWithin: may(points(RECOAT)),
      }),
      11,
    ),
  ),
  percentOf: fold(choice('sum', 'base')),
  dryUmPerCoat: fold(number('µm')),
  maxFilmUm: fold(number('µm')),
  solids: fold(percent),
  viscosity: fold(group({ cup: need(text), seconds: need(number('s')) })),
  strainUm: fold(number('µm')),
  grit: fold(number()),
  gun: fold(
    group({
      needleMm: need(number('mm')),
      inletKpa: need(measured('pressure')),
      distanceCm: need(number('cm')),
      turns: may(number()),
    }),
  ),
  ready: fold(
    group({
      dustFree: may(points()),
      handle: may(points()),
      tape: may(points()),
      sand: may(points()),
      polish: may(points()),
    }),
  ),
  finish: fold(choice('gloss', 'matte')),
  vocCategory: fold(text),
  sheet: fold(text),
}
