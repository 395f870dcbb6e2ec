/** Words of pouring what is left in a gun into a clean cup: fetched with the screens of cups and guns. */
export const en = {
  into: 'POUR BACK INTO A CLEAN CUP',
  fromGun: (gun: string) => `${gun} STILL HOLDS IT: POUR BACK INTO A CLEAN CUP`,
  howMuch: 'About how much is left in the gun? It becomes a cup of its own, with a label.',
  ends: (time: string) => `Its time goes on from the mixing: it ends at ${time}.`,
}

export const es: typeof en = {
  into: 'DEVOLVER A UN VASO LIMPIO',
  fromGun: (gun) => `${gun} AÚN LO TIENE: DEVOLVER A UN VASO LIMPIO`,
  howMuch: '¿Cuánto queda, más o menos, en la pistola? Será un vaso nuevo, con su etiqueta.',
  ends: (time) => `Su tiempo corre desde la mezcla: vence a las ${time}.`,
}
