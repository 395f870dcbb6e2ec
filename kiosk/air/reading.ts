import { COMMANDS } from '../../machines/commands.ts'
import { fieldsOf } from '../forms/spec.ts'

/** What a person reads of the air; the zone is chosen by touch. */
export const READING = fieldsOf(COMMANDS.ReadClimate, { without: ['zone'] })
