import { namesIn } from '../../kiosk/jobs/names.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { en } from '../../kiosk/words/all.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { Shop } from '../support/shop.ts'

/** A van's job for the tests of its history. */

export const JOB = 'VANREAR2'
export const DOOR = 'SDEDR222'
export const CUP = 'K7QDM2XV'
export const SAY = {
  words: en,
  format: formatOf({ timeZone: 'UTC' }),
  names: namesIn(new Shop().state),
}

export function vanShop(): Shop {
  const shop = new Shop()
  for (const sheet of [BASE, CLEAR]) shop.do('SaveSheet', { sheet })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  const route = [
    { stage: 'prep' },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
  ]
  shop.do('AddPanel', { job: JOB, panel: DOOR, name: 'Sliding door', operation: 'repair', route })
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 500, activator: 'standard', job: JOB })
  return shop
}
