import { COMMANDS } from '../../machines/commands.ts'
import { fieldsOf } from '../forms/spec.ts'

/** What a person reads of the air; the zone is chosen by touch. */
export const READING = fieldsOf(COMMANDS.ReadClimate, { without: ['zone'] })

/** Between what the air stays: who has no instrument says it once a day. */
export const RANGE = fieldsOf(COMMANDS.SetDayRange, {
  without: ['zone'],
  more: ['rhMin', 'rhMax', 'overnight'],
})
