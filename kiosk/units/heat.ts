import type { Settings } from '../../machines/shop/settingsSchema.ts'

/** A temperature of heat as an oven shows it: whole degrees, in the shop's unit. @param tempC in °C */
export const heatText = (tempC: number, units: Settings['units']): string =>
  units?.temperature === 'F' ? `${Math.round(tempC * 1.8 + 32)} °F` : `${Math.round(tempC)} °C`
