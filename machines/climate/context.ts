import type { AirMovers, AirReading } from '../clock/line.ts'

export type ZoneReading = AirReading & { readonly rh: number; readonly surfaceC?: number }
export type ZoneSpec = {
  readonly name?: string
  readonly clearanceMin?: number
  readonly sprayed?: boolean
}
export type ZoneContext = {
  readonly spec: ZoneSpec | null
  readonly readings: readonly ZoneReading[]
  readonly movers?: readonly AirMovers[]
}
