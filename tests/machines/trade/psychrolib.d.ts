/** The little of psychrolib that a test asks: temperatures in °C, humidity as a fraction. */
declare module 'psychrolib' {
  const psychrolib: {
    readonly SI: number
    SetUnitSystem(system: number): void
    GetTDewPointFromRelHum(tDryBulb: number, relHum: number): number
  }
  export default psychrolib
}
