/** Words about a route that would end in a step with no way on. */

export const en = {
  noCure: (step: number, sheet: string) =>
    `Step ${step}: the sheet of ${sheet} has no cure, neither in air nor by bake nor infrared. The panel would stop there.`,
  noSheet: (step: number, stage: string) =>
    `Step ${step}: no sheet is chosen for ${stage}. The panel would stop there.`,
  retired: (step: number, sheet: string) =>
    `Step ${step}: the sheet of ${sheet} is out of use. Choose another product.`,
  never: (step: number, sheet: string, under: string) =>
    `Step ${step}: ${sheet} must never go over ${under}, by its sheet. The panel would stop there.`,
  toSheet: (sheet: string) => `Open the sheet of ${sheet}`,
  newSheet: 'Type a new sheet',
}

export const es: typeof en = {
  noCure: (step, sheet) =>
    `Paso ${step}: la ficha de ${sheet} no tiene curado, ni al aire ni por horneado ni infrarrojo. El panel se quedaría ahí.`,
  noSheet: (step, stage) =>
    `Paso ${step}: no se eligió ficha para ${stage}. El panel se quedaría ahí.`,
  retired: (step, sheet) => `Paso ${step}: la ficha de ${sheet} ya no se usa. Elija otro producto.`,
  never: (step, sheet, under) =>
    `Paso ${step}: ${sheet} nunca va sobre ${under}, según su ficha. El panel se quedaría ahí.`,
  toSheet: (sheet) => `Abrir la ficha de ${sheet}`,
  newSheet: 'Escribir una ficha nueva',
}
