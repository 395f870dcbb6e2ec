/** Words of what is done on a lane, and of what is said before it. */

export const en = {
  before: {
    strain: (um: number) => `Strain it through ${um} µm.`,
    viscosity: (said: string) => `By its sheet it is sprayed at ${said}.`,
    matte: 'A matte finish is not polished later: tack it clean first.',
    shouldBeEmpty: 'By what was sprayed this cup should be empty: weigh it, or go on.',
    fewMl: (left: string, needs: string) =>
      `About ${left} left in this cup; this pass takes about ${needs}. An estimate.`,
    lasts: (n: number, of: number) =>
      n === 0 ? 'This cup ends before the coat does.' : `This cup lasts for ${n} of ${of} panels.`,
    filmOver: (name: string, um: number, most: number) =>
      `${name}: its film comes to ${um} µm; the sheet allows ${most} µm.`,
  },
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
  pads: { red: 'red pad', gray: 'gray pad', ultrafine: 'ultrafine pad', paste: 'abrasive paste' },
}
