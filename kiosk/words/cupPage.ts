/** Words of a scanned thing's page and of topping up a gun: fetched with these screens. */
export const en = {
  tooLate: (coat: string, panel: string, time: string) =>
    `It will not last for ${coat} on ${panel} (${time}).`,
  ratioOnSheet: 'RATIO ON THE SHEET',
  carryTo: (zone: string) => `CARRIED TO ${zone.toUpperCase()}`,
  notInWork: 'This panel is no longer in progress.',
  endsAt: (time: string) => `ends ${time}`,
  overSince: (time: string) => `ended ${time}`,
  noPotLife: 'NO POT-LIFE LIMIT, STIR',
  keepUntil: (date: string) => `keep until ${date}`,
  mixed: 'Mixed',
  ratio: 'Ratio',
  on: 'On',
  emptied: (time: string) => `Emptied ${time}`,
  notOn: 'Not on a panel yet',
  offline: 'Offline, from the label',
  faster: 'Faster than the sheet',
  fasterWhy: (sheet: string, at: string, now: string, lives: string) =>
    `The sheet says ${sheet} at ${at}. At ${now} it lasts ${lives}.`,
  gunStays: (gun: string, cup: string) => `Gun stays ${gun}, not ${cup}. Rinse it for ${cup}.`,
}

export const es: typeof en = {
  tooLate: (coat, panel, time) => `No alcanzará para ${coat} en ${panel} (${time}).`,
  ratioOnSheet: 'PROPORCIÓN EN LA FICHA',
  carryTo: (zone) => `LLEVADO A ${zone.toUpperCase()}`,
  notInWork: 'Este panel ya no está en proceso.',
  endsAt: (time) => `vence ${time}`,
  overSince: (time) => `venció ${time}`,
  noPotLife: 'SIN LÍMITE DE USO, AGITAR',
  keepUntil: (date) => `guardar hasta ${date}`,
  mixed: 'Mezclado',
  ratio: 'Proporción',
  on: 'En',
  emptied: (time) => `Vaciado ${time}`,
  notOn: 'En ningún panel aún',
  offline: 'Sin servidor, según la etiqueta',
  faster: 'Más rápido que la ficha',
  fasterWhy: (sheet, at, now, lives) => `La ficha dice ${sheet} a ${at}. A ${now} dura ${lives}.`,
  gunStays: (gun, cup) => `La pistola sigue en ${gun}, no ${cup}. Enjuáguela para ${cup}.`,
}
