import type { GunContext } from '../../machines/gun/machine.ts'
import type { AirSupply } from '../../machines/shop/airSupply.ts'
import { air } from '../../machines/trade/air.ts'

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
  const { receiverL, freeAirLpm, cutOutKpa } = supply
  const asked = { receiverL, freeAirLpm, cutOutKpa, gunLpm: airLpm, needKpa: inletKpa }
  const answer = air.answer(asked)
  if (!answer.ok) return { kind: 'unknown' }
  const { balanceLpm, drawdownMin, recoverMin } = answer.value
  return drawdownMin === null
    ? { kind: 'sustained', spareLpm: balanceLpm }
    : { kind: 'drawsDown', drawdownMin, recoverMin }
}
