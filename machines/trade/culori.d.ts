/** The little of culori that is used: CIEDE2000 between two colors of CIE L*a*b*. */
declare module 'culori/fn' {
  type Mode = { readonly mode: string }
  type Lab65 = {
    readonly mode: 'lab65'
    readonly l: number
    readonly a: number
    readonly b: number
  }
  export const modeLab65: Mode
  export function useMode(mode: Mode): unknown
  export function differenceCiede2000(): (standard: Lab65, sample: Lab65) => number
}
