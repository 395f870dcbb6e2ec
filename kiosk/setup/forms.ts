import { COMMANDS } from '../../machines/commands.ts'
import { levelSchema } from '../../machines/devices/level.ts'
import type { GunContext } from '../../machines/gun/machine.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import type { AirSupply } from '../../machines/shop/airSupply.ts'
import { labelSettingsSchema, settingsSchema } from '../../machines/shop/settingsSchema.ts'
import { air } from '../../machines/trade/air.ts'
import { type Fields, fieldsOf } from '../forms/spec.ts'

/** The forms of Setup: what their commands take, but for ids and what is chosen by touch elsewhere. */

const OF_CURE = ['cure', 'activators.cure', 'reducers.cure', 'additives.cure']

/** What work cannot go without comes first, the rest is folded away. */
export const SHEET = fieldsOf(sheetSchema, {
  // Taken away by a touch of its own, on the sheet's page.
  // Minutes at full power have one name here. A sheet's parts are typed as parts: no percentage is read from it.
  without: ['sample', 'percentOf', ...OF_CURE.map((cure) => `${cure}.infrared.fullMin`)],
  // Taken as zero, the bell for the bake rings with the last wet coat.
  required: OF_CURE.flatMap((cure) => [
    `${cure}.bake.flashBefore`,
    `${cure}.infrared.flashBefore`,
    `${cure}.infrared.minutes`,
  ]),
  more: [
    ...['volatile', 'water', 'exempt'].map((name) => `components.${name}`),
    ...['activators.cure', 'reducers.cure', 'additives'],
    ...OF_CURE.map((cure) => `${cure}.infrared.halfMin`),
    ...[
      'sheet',
      'rhRef',
      'forcedDry',
      'flashByKind',
      'ratioTolerance',
      'keepDays',
      'keepDaysReduced',
      'induction',
      'flashBy',
      'floorMin',
      'matteOnly',
    ],
    ...[
      'recoatAgainAfter',
      'recoatAfterBake',
      'heavyCoat',
      'clearWithinFromFirstCoat',
      'prepFor',
      'over',
      'dryUmPerCoat',
      'maxFilmUm',
      'solids',
      'viscosity',
    ],
    ...['strainUm', 'grit', 'gun', 'ready', 'finish', 'vocCategory'],
  ],
})

export const GUN = fieldsOf(COMMANDS.SaveGun, { without: ['gun'] })
export const AIR_SUPPLY = fieldsOf(COMMANDS.SaveAirSupply, { without: ['air'] })
export const ZONE = fieldsOf(COMMANDS.SaveZone, { without: ['zone'] })
const { opensTo: _, ...CLOSED_ZONE } = ZONE
/** What a zone's form asks for. @param others the zones that it may open to */
export const zoneFields = (others: readonly string[]): Fields =>
  others.length === 0
    ? CLOSED_ZONE
    : {
        ...ZONE,
        opensTo: {
          spec: {
            kind: 'list',
            item: { kind: 'choice', of: others },
            least: 0,
            most: others.length,
          },
          optional: true,
        },
      }
export const PERSON = fieldsOf(COMMANDS.AddPerson, { without: ['person'] })
export const LEVEL = fieldsOf(levelSchema)
export const SHOP = fieldsOf(settingsSchema, {
  without: ['units', 'clock', 'language', 'usualRoutes', 'labels'],
})
export const LABELS = fieldsOf(labelSettingsSchema)

/** Whether a compressor feeds a gun, as the calculator answers. Pure. */

type Feed =
  | { readonly kind: 'unknown' }
  /** The receiver is never filled above what the gun needs. */
  | { readonly kind: 'tooLow' }
  | { readonly kind: 'sustained'; readonly spareLpm: number }
  | { readonly kind: 'drawsDown'; readonly drawdownMin: number; readonly recoverMin: number }

/** @param gun its saved figures; without air and inlet pressure there is no answer */
export function feedOf(supply: AirSupply, gun: GunContext['spec']): Feed {
  const { airLpm, inletKpa } = gun ?? {}
  if (airLpm === undefined || inletKpa === undefined) return { kind: 'unknown' }
  if (inletKpa >= supply.cutOutKpa) return { kind: 'tooLow' }
  const { receiverL, freeAirLpm, cutOutKpa, duty } = supply
  const asked = { receiverL, freeAirLpm, cutOutKpa, duty, gunLpm: airLpm, needKpa: inletKpa }
  const answer = air.answer(asked)
  if (!answer.ok) return { kind: 'unknown' }
  const { balanceLpm, drawdownMin, recoverMin } = answer.value
  return drawdownMin === null
    ? { kind: 'sustained', spareLpm: balanceLpm }
    : { kind: 'drawsDown', drawdownMin, recoverMin }
}
