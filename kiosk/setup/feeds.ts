import type { GunContext } from '../../machines/gun/machine.ts'
import type { AirSupply } from '../../machines/shop/airSupply.ts'
import { air } from '../../machines/trade/air.ts'

/** Whether a compressor feeds a gun, as the calculator answers. Pure. */

export type Feed =
  | { readonly is: 'unknown' }
  /** The receiver is never filled above what the gun needs. */
  | { readonly is: 'tooLow' }
  | { readonly is: 'sustained'; readonly spareLpm: number }
  | { readonly is: 'drawsDown'; readonly drawdownMin: number; readonly recoverMin: number }

/** @param gun its saved figures; without air and inlet pressure there is no answer */
export function feedOf(supply: AirSupply, gun: GunContext['spec']): Feed {
  const { airLpm, inletKpa } = gun ?? {}
  if (airLpm === undefined || inletKpa === undefined) return { is: 'unknown' }
  if (inletKpa >= supply.cutOutKpa) return { is: 'tooLow' }
  const { receiverL, freeAirLpm, cutOutKpa } = supply
  const asked = { receiverL, freeAirLpm, cutOutKpa, gunLpm: airLpm, needKpa: inletKpa }
  const answer = air.answer(asked)
  if (!answer.ok) return { is: 'unknown' }
  const { balanceLpm, drawdownMin, recoverMin } = answer.value
  return drawdownMin === null
    ? { is: 'sustained', spareLpm: balanceLpm }
    : { is: 'drawsDown', drawdownMin, recoverMin }
}
