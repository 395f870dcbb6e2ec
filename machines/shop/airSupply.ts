import { plainFolder } from '../replay.ts'

/** A compressor with its receiver: what a gun can be fed by. Gauge pressures. */
export type AirSupply = {
  readonly air: string
  readonly name?: string
  readonly receiverL: number
  readonly freeAirLpm: number
  readonly cutOutKpa: number
  /** The share of the time that it may run; all of it without. */
  readonly duty?: number
}

export type AirSupplyContext = { readonly spec: AirSupply | null }

export const airSupplyFolder = plainFolder<AirSupplyContext>({ spec: null }, (_, entry) => ({
  spec: entry.data as AirSupply,
}))
