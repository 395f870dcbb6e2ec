/**
 * Saturation vapor pressure over water, in hPa, at a temperature in °C.
 * Magnus formula with the coefficients of WMO-No. 8 (2008): 6.112 exp(17.62 t / (243.12 + t)).
 */
export function saturationHpa(tempC: number): number {
  return 6.112 * Math.exp((17.62 * tempC) / (243.12 + tempC))
}

/**
 * Dew point in °C of air at a temperature in °C and a relative humidity from just above 0 to 1.
 * The inversion of the Magnus formula above; over water also below 0 °C.
 */
export function dewPointC(airC: number, rh: number): number {
  const gamma = Math.log(rh) + (17.62 * airC) / (243.12 + airC)
  return (243.12 * gamma) / (17.62 - gamma)
}
