/** Words of the question from when a film is ready for some work: fetched with the sheet of its acts. */
export const en = {
  ask: {
    sand: (sheet: string) => `The sheet of ${sheet} does not say when it is ready to sand.`,
    tape: (sheet: string) => `The sheet of ${sheet} does not say when it is ready to tape.`,
    polish: (sheet: string) => `The sheet of ${sheet} does not say when it is ready to polish.`,
    handle: (sheet: string) => `The sheet of ${sheet} does not say when it is ready to handle.`,
  },
  once: 'Say it once, at 20 °C. Or go on: it is logged that nobody knew.',
  atOnce: 'NO WAIT',
  toSheet: 'TYPE IT ON THE SHEET',
  own: 'The shop’s own figures, until the sheet has them',
  readyTo: {
    sand: 'Ready to sand',
    tape: 'Ready to tape',
    polish: 'Ready to polish',
    handle: 'Ready to handle',
  },
  noWait: 'no wait',
  drop: 'Drop coat',
  over: { wet: 'over wet', halfMatte: 'over half-matte', matte: 'over matte' },
  abrade: 'Abrade under it',
  grit: (grit: number) => `P${grit} or finer`,
}

export const es: typeof en = {
  ask: {
    sand: (sheet) => `La ficha de ${sheet} no dice cuándo se puede lijar.`,
    tape: (sheet) => `La ficha de ${sheet} no dice cuándo se puede enmascarar.`,
    polish: (sheet) => `La ficha de ${sheet} no dice cuándo se puede pulir.`,
    handle: (sheet) => `La ficha de ${sheet} no dice cuándo se puede manejar.`,
  },
  once: 'Dígalo una vez, a 20 °C. O siga: queda registrado que nadie lo sabía.',
  atOnce: 'SIN ESPERA',
  toSheet: 'ESCRIBIRLO EN LA FICHA',
  own: 'Cifras del taller, hasta que la ficha las tenga',
  readyTo: {
    sand: 'Listo para lijar',
    tape: 'Listo para encintar',
    polish: 'Listo para pulir',
    handle: 'Listo para manejar',
  },
  noWait: 'sin espera',
  drop: 'Mano de gota',
  over: { wet: 'sobre húmedo', halfMatte: 'sobre semimate', matte: 'sobre mate' },
  abrade: 'Lijar debajo',
  grit: (grit) => `P${grit} o más fino`,
}
