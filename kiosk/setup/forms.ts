import { COMMANDS } from '../../machines/commands.ts'
import { levelSchema } from '../../machines/devices/level.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import { settingsSchema } from '../../machines/shop/settingsSchema.ts'
import { fieldsOf } from '../forms/spec.ts'

/** The forms of Setup: what their commands take, but for ids and what is chosen by touch elsewhere. */

/** What work cannot go without comes first, the rest is folded away. */
export const SHEET = fieldsOf(sheetSchema, {
  more: [
    ...['volatile', 'water', 'exempt'].map((name) => `components.${name}`),
    ...['activators.cure', 'reducers.cure'],
    ...['sheet', 'rhRef', 'percentOf', 'keepDays', 'induction', 'flashBy', 'floorMin'],
    ...['recoatAgainAfter', 'over', 'dryUmPerCoat', 'maxFilmUm', 'solids', 'viscosity'],
    ...['strainUm', 'grit', 'gun', 'ready', 'finish', 'vocCategory'],
  ],
})

export const GUN = fieldsOf(COMMANDS.SaveGun, { without: ['gun'] })
export const AIR_SUPPLY = fieldsOf(COMMANDS.SaveAirSupply, { without: ['air'] })
export const ZONE = fieldsOf(COMMANDS.SaveZone, { without: ['zone'] })
export const READING = fieldsOf(COMMANDS.ReadClimate, { without: ['zone'] })
export const PERSON = fieldsOf(COMMANDS.AddPerson, { without: ['person'] })
export const LEVEL = fieldsOf(levelSchema)
export const SHOP = fieldsOf(settingsSchema, { without: ['units', 'clock', 'language'] })
