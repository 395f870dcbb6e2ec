import { en as first, type Words } from './en.ts'
import { en as rest } from './rest.ts'

/** Every word of the kiosk in English, for who has no page to save. */
export const en: Words = { ...first, ...rest }
