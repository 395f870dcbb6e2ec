import { hashOf } from '../ui/route.ts'

/** The pages below Jobs. Ids are upper case, so no page's word can be one. */
export const NEW_JOB = 'new'
export const CLOSE_DAY = 'close-day'
export const HISTORY = 'history'
export const PANELS = 'panels'
export const PANEL = 'panel'

export const jobsPath = (...rest: readonly string[]): string => hashOf('jobs', ...rest)
