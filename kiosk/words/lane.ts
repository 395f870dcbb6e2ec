/** Words of what is done on a lane. */

export const en = {
  work: {
    degrease: 'degrease',
    fill: 'fill',
    isolate: 'isolate',
    guideCoat: 'guide coat',
    abrade: 'abrade',
    tack: 'tack off',
    mask: 'mask',
    unmask: 'unmask',
    purge: 'purge the booth',
  },
}
